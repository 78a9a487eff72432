using Farberth.Service.SiteEditing;

namespace Farberth.Service.Tests.SiteEditing;

public sealed class AppliedSiteTests : IDisposable
{
    static readonly string Given = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data/hot-afternoon/four-posts.site.yaml"));
    static readonly string Other = Given.Replace("feeder-breaker: 100 A", "feeder-breaker: 125 A", StringComparison.Ordinal);
    static readonly DateTimeOffset Noon = new(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);

    readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("farberth-");

    public void Dispose() => folder.Delete(recursive: true);

    void Apply(string text) => new AppliedSite(AppliedSite.Sha256(Given), Noon, "Ines", text).Write(folder.FullName);

    [Fact]
    public void The_file_itself_is_used_until_another_is_put_to_use()
    {
        Assert.Equal(Given, AppliedSite.TextInUse(folder.FullName, Given, out var note));
        Assert.Null(note);
        Apply(Other);
        Assert.Equal(Other, AppliedSite.TextInUse(folder.FullName, Given, out note));
        Assert.Contains("Ines", note!, StringComparison.Ordinal);
    }

    [Fact]
    public void Whoever_edits_the_file_itself_afterwards_has_the_last_word()
    {
        Apply(Other);
        var edited = Given + "\n# seen by the electrician\n";
        Assert.Equal(edited, AppliedSite.TextInUse(folder.FullName, edited, out var note));
        Assert.Contains("changed since", note!, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("site: [")]
    [InlineData("")]
    public void One_with_mistakes_is_not_used(string text)
    {
        Apply(text);
        Assert.Equal(Given, AppliedSite.TextInUse(folder.FullName, Given, out var note));
        Assert.Contains("mistakes", note!, StringComparison.Ordinal);
    }

    [Fact]
    public void One_that_cannot_be_read_is_not_used()
    {
        Apply(Other);
        File.WriteAllText(folder.GetFiles().Single().FullName, "{");
        Assert.Equal(Given, AppliedSite.TextInUse(folder.FullName, Given, out var note));
        Assert.Contains("cannot be read", note!, StringComparison.Ordinal);
    }
}
