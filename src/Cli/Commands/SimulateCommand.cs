using System.CommandLine;
using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Recordings;
using Farberth.HotAfternoon;
using Farberth.Service;

namespace Farberth.Cli.Commands;

/// <summary>Plays an invented afternoon: into a recording as fast as it goes, or to a broker at a speed.</summary>
static class SimulateCommand
{
    const double FastestSpeed = 1000;

    public static Command Make()
    {
        var scenario = new Argument<string>("SCENARIO") { Description = "The scenario file (YAML)." };
        var site = new Option<string?>("--site") { Description = "The site file; else the only *.site.yaml beside the scenario.", HelpName = "FILE" };
        var write = new Option<string?>("--write") { Description = "Write a recording; .gz is packed.", HelpName = "FILE" };
        var speed = new Option<double>("--speed") { Description = "Times real time, 1 to 1000, when publishing.", HelpName = "N", DefaultValueFactory = _ => 1, CustomParser = result => Arguments.Number(result, 1, FastestSpeed) };
        var broker = new BrokerArguments();
        var command = new Command("simulate", "Play a scenario's messages into a recording or to a broker.") { scenario, site, write, speed };
        broker.AddTo(command);
        command.Validators.Add(result =>
        {
            if (result.GetValue(write) is null == result.GetResult(broker.Mqtt) is null)
                result.AddError("say where the messages go: either --write FILE or --mqtt HOST:PORT");
        });
        command.SetAction((parsed, stop) =>
        {
            var path = parsed.GetRequiredValue(scenario);
            var definition = InputFiles.Site(parsed.GetValue(site) ?? InputFiles.SiteBeside(path));
            var simulation = InputFiles.Simulation(path, definition);
            return parsed.GetValue(write) is { } file
                ? Task.FromResult(Write(simulation, file, stop))
                : Publish(simulation, broker.Read(parsed, "farberth-simulate")!, parsed.GetValue(speed), stop);
        });
        return command;
    }

    static int Write(Simulation simulation, string file, CancellationToken stop)
    {
        try
        {
            var progress = new Progress();
            using var writer = RecordingFile.Create(file);
            foreach (var message in simulation.Run())
            {
                stop.ThrowIfCancellationRequested();
                writer.Write(message);
                progress.Show(() => $"{message.At:yyyy-MM-dd HH:mm} UTC, {writer.Count} messages");
            }
            progress.Clear();
            Console.WriteLine($"{writer.Count} messages from {simulation.Start:u} to {simulation.End:u} in {file}");
            return Exit.Done;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw CommandFailure.Outside(e.Message);
        }
    }

    static async Task<int> Publish(Simulation simulation, MqttOptions options, double speed, CancellationToken stop)
    {
        await using var link = await BrokerArguments.Connect(options, [], stop);
        var player = new Player(new ScaledClock(simulation.Start, speed), async (message, cancel) =>
        {
            if (await link.PublishPatiently(message, cancel) is { IsAccepted: false } refused)
                throw CommandFailure.Outside($"{options}: {refused.Problem}");
        });
        try
        {
            await player.PlayAsync(simulation.Run(), stop);
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // Ctrl-C: what was published stays published.
        }
        Console.WriteLine($"{link.Counts.Published} messages published to {options.Host}:{options.Port}");
        return Exit.Done;
    }
}
