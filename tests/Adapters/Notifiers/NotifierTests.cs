using System.Text.Json.Nodes;
using Farberth.Adapters.Notifiers;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;

namespace Farberth.Adapters.Tests.Notifiers;

/// <summary>What every test of a notifier needs: a notice, and a time after which a server that says nothing has failed.</summary>
public abstract class NotifierTests
{
    protected static readonly TimeSpan Within = TimeSpan.FromSeconds(30);

    /// <summary>For the tests in which nobody ever answers.</summary>
    protected static readonly TimeSpan Briefly = TimeSpan.FromMilliseconds(50);

    protected static readonly Secret Key = new("a key that nobody may see");

    protected static CancellationToken Cancel => TestContext.Current.CancellationToken;

    protected static Notice OpenNeutral(string message = "The neutral of cable C7 is open. Keep off.\r\nBcc: everybody@example.org") => Of(new(
        "C.C7.open-neutral", AlarmKind.OpenNeutral, AlarmState.Unacknowledged, Priority.High, Stores.Given.Noon, new("C", "C7"), Audience.Everybody,
        message, new JsonObject { ["shift-volts"] = 31.4 }));

    /// <summary>To a boater who has entered himself, in German.</summary>
    protected static Notice ToBoater(string address = "https://dock.example.org/b/stop/c3RvcA?lang=de") => OpenNeutral() with
    {
        Headline = "Neutralleiter versagt (ganzer Steg oder ein Teil).", Text = "Neutralleiter versagt.", Caution = "Niemand schwimmt an einem Steg mit Strom.",
        High = "dringend", WayOut = new(new(address), $"Nichts mehr bekommen: {address}", "Keine Nachrichten mehr"),
    };

    protected static Notice Of(Alarm alarm)
    {
        var happened = new AlarmStepped(new(Stores.Given.Noon, AlarmState.Normal, alarm, "the limit was passed"));
        return new(
            "eastharbour", happened.Key, happened.At, alarm.Priority, "The neutral of cable C7 is open.",
            alarm.Message.ReplaceLineEndings(" "), Cautions.Of(alarm.Kind), [happened]);
    }
}
