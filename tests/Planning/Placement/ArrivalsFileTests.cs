using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

/// <summary>A bad file says in comments which mistakes must be found and where; no other may be.</summary>
public class ArrivalsFileTests
{
    static readonly SiteDefinition Site = SiteFile.Read(Text("skua-landing.site.yaml")).Site!;

    [Fact]
    public void A_good_file_is_read_with_its_times_at_the_marina()
    {
        var result = ArrivalsFile.Read(Text("weekend.arrivals.yaml"), Site);
        Assert.Empty(result.Mistakes);
        var list = result.Arrivals!;
        var puffin = list.Arrivals.First(arrival => arrival.Boat.Name == "Puffin");
        Assert.Equal(new DateTimeOffset(2027, 7, 16, 18, 30, 0, TimeSpan.Zero), puffin.From); // 14:30 in New York in July is 18:30 UTC
        Assert.Equal(new DateTimeOffset(2027, 7, 18, 15, 0, 0, TimeSpan.Zero), puffin.Until); // no time stated: 11:00
        Assert.Equal(38 * 0.3048, puffin.Boat.LengthMetres, 1e-9);
        Assert.Equal(2, puffin.Boat.Cords.Count);
        Assert.Equal(37, list.Outdoor.Days[new(2027, 7, 17)].High);
        Assert.True(Assert.Single(list.Present, stay => stay.MayMove).Slip == "K-3");
    }

    [Theory]
    [InlineData("bad-many.arrivals.yaml")]
    [InlineData("bad-empty.arrivals.yaml")]
    public void A_bad_file_gives_exactly_the_mistakes_that_it_announces(string file)
    {
        var text = Text(file);
        var result = ArrivalsFile.Read(text, Site);
        Assert.Null(result.Arrivals);
        var expected = text.Split('\n').Where(line => line.StartsWith("# expect: ", StringComparison.Ordinal)).Select(line => line[10..].Split(' ', 2)).ToList();
        Assert.NotEmpty(expected);
        Assert.Equal(expected.Count, result.Mistakes.Count);
        Assert.All(expected, one => Assert.Contains(result.Mistakes, mistake =>
            $"{mistake.Line}:{mistake.Column}" == one[0] && mistake.Message.Contains(one[1], StringComparison.Ordinal)));
    }

    /// <summary>Cutting the file anywhere gives mistakes or a list, never an exception.</summary>
    [Fact]
    public void A_file_cut_anywhere_is_an_answer()
    {
        var text = Text("weekend.arrivals.yaml");
        for (var length = 0; length < text.Length; length += 7)
            Assert.True(ArrivalsFile.Read(text[..length], Site) is { Arrivals: null, Mistakes.Count: > 0 } or { Arrivals: not null, Mistakes.Count: 0 });
    }

    static string Text(string name) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data", "arrivals", name));
}
