using System.Diagnostics;
using Farberth.Acceptance.Tests;
using Farberth.Tests.Fixtures;

namespace Farberth.Console.Tests;

/// <summary>The demo as a real process: simulator, broker and service, everybody let in.</summary>
public sealed class Demo : IAsyncLifetime
{
    /// <summary>Long enough for the tests after the dock has got hot.</summary>
    const string Minutes = "6";

    readonly CommandLog told = new();
    Process process = default!;

    /// <summary>Tests begin when an alarm of high priority stands.</summary>
    public bool UntilHot { get; init; } = true;

    public Uri Home { get; private set; } = default!;

    public async ValueTask InitializeAsync()
    {
        process = FarberthCommand.Start("demo", "--minutes", Minutes, "--http", "http://127.0.0.1:0");
        told.Follow(process.StandardOutput);
        Home = new((await told.When(line => line.StartsWith("page: ", StringComparison.Ordinal), 0, FarberthCommand.Cancel))[6..]);
        if (UntilHot)
            await told.When(line => line.Contains(" raised H.", StringComparison.Ordinal) && line.Contains("(high)", StringComparison.Ordinal), 0, FarberthCommand.Cancel);
    }

    /// <summary>The far end has low volts: the worst of the afternoon begins.</summary>
    public Task Hot() => told.When(line => line.Contains("H.H18.undervoltage (high)", StringComparison.Ordinal), 0, FarberthCommand.Cancel);

    public async ValueTask DisposeAsync()
    {
        process.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
    }
}
