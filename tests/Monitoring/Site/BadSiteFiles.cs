using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Site;

/// <summary>Each bad file says in comments which mistakes must be found and where; no other may be.</summary>
public class BadSiteFiles
{
    public static TheoryData<string> Files => SampleFiles.Bad;

    [Theory, MemberData(nameof(Files))]
    public void A_bad_file_gives_exactly_the_mistakes_that_it_announces(string file)
    {
        var text = SampleFiles.Text(file);
        var result = SiteFile.Read(text);
        Assert.Null(result.Site);
        var expected = SampleFiles.Comments(text, "expect").Select(Expectation.Parse).ToList();
        Assert.NotEmpty(expected);
        var unmet = expected.Where(expectation => !result.Mistakes.Any(expectation.IsMetBy)).ToList();
        var unannounced = result.Mistakes.Where(mistake => !expected.Any(expectation => expectation.IsMetBy(mistake))).ToList();
        Assert.True(
            unmet.Count == 0 && unannounced.Count == 0 && expected.Count == result.Mistakes.Count,
            $"Not found:\n{string.Join('\n', unmet)}\nNot announced:\n{string.Join('\n', unannounced)}\n"
                + $"All:\n{string.Join('\n', result.Mistakes)}");
    }

    [Theory, MemberData(nameof(Files))]
    public void Mistakes_come_in_the_order_of_the_file(string file)
    {
        var places = SiteFile.Read(SampleFiles.Text(file)).Mistakes.Select(mistake => (mistake.Line, mistake.Column)).ToList();
        Assert.Equal(places.Order(), places);
    }

    [Fact]
    public void One_file_with_eight_different_mistakes_reports_all_eight()
    {
        var mistakes = SiteFile.Read(SampleFiles.Text("bad-many.yaml")).Mistakes;
        Assert.Equal(8, mistakes.Count);
        Assert.Equal(
            ["site", "timezone", "docks.K.source.transformer.rating", "docks.K.cables[0].length", "docks.K.cables[1].from",
             "docks.K.pedestals.P1.outlets.A.legs[0]", "docks.K.pedestals.P1.outlets.A.slip", "docks.K.pedestals.P2.outlets.A.plug"],
            mistakes.Select(mistake => mistake.Path));
    }

    sealed record Expectation(int Line, int Column, string Fragment)
    {
        public static Expectation Parse(string comment)
        {
            var place = comment.Split(' ')[0];
            var numbers = place.Split(':').Select(int.Parse).ToArray();
            return new(numbers[0], numbers[1], comment[(place.Length + 1)..]);
        }

        public bool IsMetBy(SiteMistake mistake) =>
            (mistake.Line, mistake.Column) == (Line, Column) && mistake.Message.Contains(Fragment, StringComparison.Ordinal);
    }
}
