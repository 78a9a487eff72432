using System.Diagnostics;

namespace Farberth.Tests.Fixtures;

/// <summary>Other people's programs, as a user at a shell would run them.</summary>
public static class Command
{
    public static Process Start(string program, params string[] arguments) =>
        Process.Start(new ProcessStartInfo(program, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;

    /// <summary>Runs to the end; throws, with what it said, unless it ended with 0.</summary>
    /// <param name="input">For its standard input.</param>
    public static async Task<string> Run(string program, string[] arguments, CancellationToken cancel, string input = "")
    {
        using var process = Start(program, arguments);
        var output = process.StandardOutput.ReadToEndAsync(cancel);
        var errors = process.StandardError.ReadToEndAsync(cancel);
        await process.StandardInput.WriteAsync(input.AsMemory(), cancel);
        process.StandardInput.Close();
        await process.WaitForExitAsync(cancel);
        return process.ExitCode == 0 ? await output
            : throw new InvalidOperationException($"{program} ended with {process.ExitCode}: {await errors}");
    }
}
