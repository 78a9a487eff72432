using System.CommandLine;
using Farberth.Adapters.Recordings;
using Farberth.Cli.Replaying;
using Farberth.Monitoring.Site;

namespace Farberth.Cli.Commands;

/// <summary>The same engine as the service over a recording, on the recording's own clock.</summary>
static class ReplayCommand
{
    public static Command Make()
    {
        var site = Arguments.Site();
        var recording = new Argument<string>("RECORDING") { Description = "The recording, one message a line; .gz is unpacked." };
        var alarms = Sink("--alarms", "Write one alarm transition a line.");
        var estimates = Sink("--estimates", "Write one dock state a line, each second of the recording.");
        var advice = Sink("--advice", "Write what is asked of boaters and taken back, one change a line.");
        var json = Arguments.Json();
        var command = new Command("replay", "Run a recording through the engine as fast as it goes.")
            { site, recording, alarms, estimates, advice, json };
        command.Validators.Add(result =>
        {
            if (new[] { alarms, estimates, advice }.Count(sink => result.GetValue(sink) == LineSink.StandardOutput) > 1)
                result.AddError("only one of --alarms, --estimates and --advice can go to standard output");
        });
        command.SetAction(parsed => Run(
            InputFiles.Site(parsed.GetRequiredValue(site)), parsed.GetRequiredValue(recording),
            parsed.GetValue(alarms), parsed.GetValue(estimates), parsed.GetValue(advice), parsed.GetValue(json)));
        return command;
    }

    static Option<string?> Sink(string name, string description) =>
        new(name) { Description = description + " - is standard output.", HelpName = "FILE" };

    static int Run(SiteDefinition site, string recording, string? alarmsPath, string? estimatesPath, string? advicePath, bool asJson)
    {
        if (!File.Exists(recording))
            throw CommandFailure.BadInput($"{recording}: there is no such file");
        try
        {
            using var alarms = LineSink.Open(alarmsPath);
            using var estimates = LineSink.Open(estimatesPath);
            using var advice = LineSink.Open(advicePath);
            var replay = new Replay(new SiteMonitor(site), recording, alarms, estimates, advice);
            replay.Run(RecordingFile.Read(recording));
            // What goes to standard output is then for a machine: the summary stands aside.
            var summary = new[] { alarmsPath, estimatesPath, advicePath }.Contains(LineSink.StandardOutput) ? Console.Error : Console.Out;
            summary.WriteLine(asJson ? replay.Summary.Json() : replay.Summary.Text());
            return Exit.Done;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw CommandFailure.Outside(e.Message);
        }
    }
}
