using System.Diagnostics;
using System.Text;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests;

/// <summary>How a run of the command ended.</summary>
sealed record Ended(int Status, string Output, string Errors);

/// <summary>The built command, as a user at a shell would run it.</summary>
static class FarberthCommand
{
    public static readonly string Program = Path.Combine(AppContext.BaseDirectory, "farberth");

    public static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public static Process Start(params string[] arguments)
    {
        var process = Command.Start(Program, arguments);
        process.StandardInput.Close();
        return process;
    }

    public static Task<Ended> Run(params string[] arguments) => RunIn(AppContext.BaseDirectory, arguments);

    public static async Task<Ended> RunIn(string folder, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(Program, arguments)
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
            StandardErrorEncoding = Encoding.UTF8,
        })!;
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEndAsync(Cancel);
        var errors = process.StandardError.ReadToEndAsync(Cancel);
        await process.WaitForExitAsync(Cancel);
        return new Ended(process.ExitCode, await output, await errors);
    }

    public static Task Interrupt(Process process) => Command.Run("/bin/kill", ["-INT", process.Id.ToString()], Cancel);
}
