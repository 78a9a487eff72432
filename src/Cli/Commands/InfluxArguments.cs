using System.CommandLine;
using Farberth.Adapters.Stores.InfluxDb;

namespace Farberth.Cli.Commands;

/// <summary>Where the long history goes.</summary>
sealed class InfluxArguments
{
    /// <summary>The token does not belong on a command line, where every user of the machine could read it.</summary>
    public const string TokenVariable = "FARBERTH_INFLUX_TOKEN";

    readonly Option<string?> url = new("--influx")
    {
        Description = $"Keep the long history in InfluxDB 2 at this address; the token is read from {TokenVariable}.",
        HelpName = "URL",
    };

    readonly Option<string> organization = new("--influx-org") { Description = "The organization there.", DefaultValueFactory = _ => "farberth" };
    readonly Option<string> bucket = new("--influx-bucket") { Description = "The bucket there.", DefaultValueFactory = _ => "farberth" };

    public void AddTo(Command command)
    {
        url.Validators.Add(result =>
        {
            if (!Uri.TryCreate(result.GetValueOrDefault<string?>(), UriKind.Absolute, out var address) || address.Scheme is not ("http" or "https"))
                result.AddError("--influx must be an address as http://127.0.0.1:8086");
        });
        foreach (var option in new Option[] { url, organization, bucket })
            command.Add(option);
    }

    /// <returns>Null where no database is named.</returns>
    public InfluxOptions? Read(ParseResult parsed) => parsed.GetValue(url) is not { } address ? null
        : new InfluxOptions(new Uri(address), parsed.GetValue(organization)!, parsed.GetValue(bucket)!)
        {
            Token = Environment.GetEnvironmentVariable(TokenVariable) ?? "",
        };
}
