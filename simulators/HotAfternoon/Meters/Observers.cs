namespace Farberth.HotAfternoon;

/// <summary>Everybody on the site who sends messages: pedestals, the weather station, the dock office.</summary>
sealed class Observers
{
    readonly PedestalMeter[] meters;
    readonly WeatherStation station;
    readonly DockOffice office;

    public Observers(
        Scenario scenario, string site, DockRun[] docks, HeatWave sky, Func<DateTime, DateTimeOffset> utc,
        MessagesUnderWay arrivals)
    {
        var topic = new Topics(site);
        station = new WeatherStation(scenario, sky, topic, utc, arrivals);
        office = new DockOffice(docks, topic, utc, arrivals);
        meters =
        [
            .. docks.SelectMany(dock => dock.Topology.Pedestals.Select(pedestal =>
                new PedestalMeter(pedestal.Name, dock, scenario, topic, utc, arrivals))),
        ];
    }

    /// <summary>Sends what falls due from one local moment up to the next.</summary>
    public void Step(DateTime local, DateTime next)
    {
        station.Step(local);
        office.Step(local);
        foreach (var meter in meters)
            meter.Step(next);
    }
}
