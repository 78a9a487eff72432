namespace Farberth.Console.Tests;

/// <summary>What <see cref="OpenConsole"/> stands for is a console: what pedestals say comes to each of them, and to nobody who is not signed in.</summary>
public class OpenConsoleTests(Marina marina) : IClassFixture<Marina>
{
    static readonly CancellationToken Cancel = TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_reading_comes_to_every_open_console()
    {
        var cookies = await OpenConsole.SignIn(marina.Home, Marina.Viewer, Marina.Password, Cancel);
        var open = await Task.WhenAll(Enumerable.Range(0, 5).Select(_ => OpenConsole.Open(marina.Home, cookies, "/", Cancel)));

        foreach (var (volts, written) in new[] { (117.3, "117.3"), (118.6, "118.6") })
        {
            var shown = open.Select(console => console.Shows(written)).ToList();
            marina.Volts = volts;
            await Task.WhenAll(shown).WaitAsync(TimeSpan.FromMinutes(1), Cancel);
        }

        Assert.All(open, console => Assert.True(console.Renders >= 2));
        foreach (var console in open)
            await console.DisposeAsync();
    }

    [Fact]
    public async Task Nobody_opens_one_with_a_wrong_password()
        => await Assert.ThrowsAsync<InvalidOperationException>(() => OpenConsole.SignIn(marina.Home, Marina.Viewer, "something else entirely", Cancel));
}
