using System.CommandLine;
using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Recordings;

namespace Farberth.Cli.Commands;

/// <summary>Writes what a broker carries into a recording, until Ctrl-C.</summary>
static class RecordCommand
{
    // Long enough for a broker's restart; short, because nobody comes back to this session later.
    static readonly TimeSpan SessionExpiry = TimeSpan.FromMinutes(10);

    public static Command Make()
    {
        var file = new Argument<string>("OUT") { Description = "The recording; .gz is packed. A file of that name is replaced." };
        var site = new Option<string?>("--site") { Description = "Only this site's messages.", HelpName = "NAME" };
        var broker = new BrokerArguments();
        var command = new Command("record", "Write a recording from a broker until Ctrl-C.") { file, site };
        broker.AddTo(command);
        broker.Mqtt.Required = true;
        command.SetAction((parsed, stop) =>
        {
            var options = broker.Read(parsed, $"farberth-record-{Guid.NewGuid():N}")!;
            options = options with { SessionExpiry = options.Version == MqttVersion.V5 ? SessionExpiry : TimeSpan.Zero };
            return Run(options, parsed.GetValue(site), parsed.GetRequiredValue(file), stop);
        });
        return command;
    }

    static async Task<int> Run(MqttOptions options, string? site, string file, CancellationToken stop)
    {
        try
        {
            await using var link = await BrokerArguments.Connect(options, [Recorder.Filter(site)], stop);
            using var writer = RecordingFile.Create(file);
            Console.Error.WriteLine($"recording {Recorder.Filter(site)} of {options.Host}:{options.Port} into {file}; Ctrl-C ends it");
            var telling = Tell(link, stop);
            var counts = await Recorder.Run(link, writer, stop);
            await telling;
            Console.WriteLine($"{counts.Messages} messages in {file}"
                + (counts.Lost > 0 ? $"; {counts.Lost} lost, because they came faster than they could be written" : ""));
            return Exit.Done;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw CommandFailure.Outside(e.Message);
        }
    }

    /// <summary>Says on standard error when the broker goes away and comes back.</summary>
    static async Task Tell(MqttLink link, CancellationToken stop)
    {
        try
        {
            while (true)
            {
                var away = await link.State.When(state => state.Reason.Length > 0, stop);
                Console.Error.WriteLine($"the broker is away ({away.Reason}); trying again");
                await link.State.When(state => state.Phase == LinkPhase.Connected, stop);
                Console.Error.WriteLine("connected again");
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // The recording ends.
        }
    }
}
