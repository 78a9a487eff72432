using System.CommandLine;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service;
using Farberth.Service.SiteEditing;
using Farberth.Service.Telling;

namespace Farberth.Cli.Commands;

/// <summary>The service, until Ctrl-C or SIGTERM.</summary>
static class RunCommand
{
    public static Command Make()
    {
        var site = Arguments.Site();
        var http = Arguments.Http(isServed: true);
        var port = new Option<int?>("--broker")
        {
            Description = "Start a broker inside the process on this port of the loopback address, 0 for any free one, in place of --mqtt.",
            HelpName = "PORT",
            CustomParser = result => Arguments.Whole(result, 0, 65535),
        };
        var data = new Option<string?>("--data")
        {
            Description = "Where readings and alarms are kept; farberth-data/{site} in the working folder where none is given.",
            HelpName = "DIR",
        };
        var address = new Option<Uri?>("--address")
        {
            Description = "Where people reach the web pages from outside, for the links that boaters get; as https://dock.example.org.",
            HelpName = "URL",
            CustomParser = result =>
            {
                if (Uri.TryCreate(result.Tokens[0].Value, UriKind.Absolute, out var url) && url is { Scheme: "http" or "https" } and { PathAndQuery: "/", Fragment: "", UserInfo: "" })
                    return url;
                result.AddError($"--address must be http or https, a host and no path, not '{result.Tokens[0].Value}'");
                return null;
            },
        };
        var asJson = new Option<bool>("--log-json") { Description = "Write the log as one JSON object a line, for programs." };
        var broker = new BrokerArguments();
        var (influx, journal, keeping, access) = (new InfluxArguments(), new JournalArguments(), new KeepingArguments(), new AccessArguments(http));
        var command = new Command("run", "Run the service for a site.") { site, port, http, address, data, asJson };
        broker.AddTo(command);
        keeping.AddTo(command);
        influx.AddTo(command);
        journal.AddTo(command);
        access.AddTo(command);
        command.Validators.Add(result =>
        {
            if (result.GetResult(broker.Mqtt) is not null && result.GetResult(port) is not null)
                result.AddError("either --mqtt or --broker, not both");
        });
        command.SetAction((parsed, stop) => Run(() => Options(parsed), parsed.GetValue(asJson), stop));
        return command;

        ServiceOptions Options(ParseResult parsed)
        {
            var path = parsed.GetRequiredValue(site);
            var given = InputFiles.Site(path);
            var folder = parsed.GetValue(data) ?? Path.Combine("farberth-data", given.Name);
            var text = AppliedSite.TextInUse(folder, InputFiles.Text(path), out var note);
            if (note is not null)
                Console.Error.WriteLine(note);
            var definition = SiteFile.Read(text).Site ?? given;
            var id = ServiceOptions.ClientId(definition);
            var mqtt = broker.Read(parsed, id) ?? new MqttOptions("127.0.0.1", MqttOptions.PlainPort, id);
            return new(definition, mqtt, parsed.GetValue(port), parsed.GetRequiredValue(http))
            {
                DataFolder = folder,
                History = keeping.History(parsed),
                IntakeLog = keeping.Intake(parsed),
                Access = access.Read(parsed),
                Address = parsed.GetValue(address),
                Influx = influx.Read(parsed),
                SiteText = text,
                GivenSiteText = InputFiles.Text(path),
                Notify = journal.NotifyFile(parsed) is { } file ? NotifyFiles.Read(file, definition) : NotifyOptions.Nobody,
                Journal = journal.Open(parsed, definition, folder),
            };
        }
    }

    /// <summary>Runs the service, and again with another site file where somebody puts one to use: at the same address, in the same process.</summary>
    static async Task<int> Run(Func<ServiceOptions> options, bool logAsJson, CancellationToken stop)
    {
        Func<ServiceOptions, ServiceOptions>? again = fresh => fresh;
        while (again is not null)
            again = await RunOnce(again(options()), logAsJson, stop);
        return Exit.Done;
    }

    /// <returns>Null at the end; else what the next run has from this one.</returns>
    static async Task<Func<ServiceOptions, ServiceOptions>?> RunOnce(ServiceOptions options, bool logAsJson, CancellationToken stop)
    {
        await using var log = logAsJson ? Logs.ToConsoleAsJson() : Logs.ToConsole();
        using var journal = options.Journal;
        try
        {
            CheckVersion(journal);
            await using var service = await RunningService.Start(options, TimeProvider.System, log);
            Console.WriteLine($"site {options.Site.Name}: {service.HttpAddress}"
                + (service.BrokerPort is { } port ? $", broker on 127.0.0.1:{port}" : $", broker {options.Mqtt.Host}:{options.Mqtt.Port}"));
            Console.WriteLine(Caution.Text);
            if (service.FirstAdministrator is { } first)
                Console.WriteLine($"nobody has an account yet; the first one is made at {first}");
            await service.WhenStopped(stop);
            var (address, brokerPort) = (service.HttpAddress, service.BrokerPort);
            return service.BeginsAgain && !stop.IsCancellationRequested ? next => next with { Http = address, BrokerPort = brokerPort } : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw CommandFailure.Outside(e.Message);
        }
    }

    /// <summary>A journal of a later version is not written to. One that is away is waited for, while the service runs.</summary>
    /// <exception cref="JournalException">It is newer.</exception>
    static void CheckVersion(IJournal? journal)
    {
        try
        {
            journal?.SiteFiles(1);
        }
        catch (JournalException e) when (e.Failure != JournalFailure.NewerSchema)
        {
            // The service says so, and goes on trying.
        }
    }
}
