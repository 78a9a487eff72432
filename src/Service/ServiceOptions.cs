using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Telling;

namespace Farberth.Service;

/// <summary>What a running service needs to be told.</summary>
/// <param name="Site">A checked site: nothing starts on a bad file.</param>
/// <param name="Mqtt">The broker; host and port are filled in where <paramref name="BrokerPort"/> is given.</param>
/// <param name="BrokerPort">Start a broker inside the process on this port of the loopback address; 0: any free one; null: none.</param>
/// <param name="Http">Where the page and the API are served; port 0: any free one.</param>
public sealed record ServiceOptions(SiteDefinition Site, MqttOptions Mqtt, int? BrokerPort, Uri Http)
{
    /// <summary>Where what arrives is kept; null: nowhere, and what was acknowledged is gone with the process.</summary>
    public string? DataFolder { get; init; }

    /// <summary>How long, and how much.</summary>
    public HistoryOptions History { get; init; } = HistoryOptions.Usual;

    /// <summary>How much of what arrived waits there.</summary>
    public IntakeLogOptions IntakeLog { get; init; } = IntakeLogOptions.Usual;

    /// <summary>Where the long history goes; null: nowhere. Needs a data folder.</summary>
    public InfluxOptions? Influx { get; init; }

    /// <summary>Where alarms, requests and contacts are kept: the journal; null: nowhere, and everything goes out at once.</summary>
    public IJournal? Journal { get; init; }

    /// <summary>The text of the site file in use, which the journal keeps.</summary>
    public string? SiteText { get; init; }

    /// <summary>The text of the file that the service was started with, where another one was put to use in its place.</summary>
    public string? GivenSiteText { get; init; }

    /// <summary>Where people reach the service from outside, for links that are handed out; null: where it listens.</summary>
    public Uri? Address { get; init; }

    /// <summary>Whom to tell, and by what.</summary>
    public NotifyOptions Notify { get; init; } = NotifyOptions.Nobody;

    /// <summary>Who is let in.</summary>
    public AccessOptions Access { get; init; } = AccessOptions.Everybody;

    /// <summary>The name of the service's session at the broker.</summary>
    public static string ClientId(SiteDefinition site) => $"farberth-{site.Name}";
}
