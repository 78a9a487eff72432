using Farberth.Grid.Protection;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Risk;

/// <summary>One outlet with the plug in it: what its amps have left in it, and what its own temperatures have taught of its wear.</summary>
sealed class PlugWatch(OutletDefinition outlet, ContactLimits limits)
{
    /// <summary>
    /// What the first reading is taken to have flowed for long, at most: a compressor's start in the one second that is read must
    /// not make a hot plug of a cold one.
    /// </summary>
    const double MostAtFirst = 0.67;

    /// <summary>
    /// A motor's start is over in a second; held until the next reading it would count for many. More than this no breaker carries for
    /// long, and it is taken as this much of the rating.
    /// </summary>
    const double MostShare = 1.5;

    static readonly TimeSpan WearEvery = TimeSpan.FromMinutes(1);

    readonly ConnectorModel model = new(outlet.RatingAmps, limits.RiseKelvin);
    ConnectorHeat heat;
    ContactWear wear = ContactWear.Unknown;
    DateTimeOffset? weighedAt;
    DateTimeOffset measuredAt;
    double amps = -1;
    double share;
    double? measured;

    /// <returns>Null before the first reading.</returns>
    public ContactRisk? Tick(DateTimeOffset now, bool isFresh, OutletImage image, ConnectorStep step, PedestalAir air)
    {
        if (image.Latest is not { } reading)
            return null;
        Take(Math.Min(AmpsOf(reading), MostShare * outlet.RatingAmps));
        if (weighedAt == null)
            (heat, weighedAt) = (ConnectorHeat.Settled(Math.Min(share, MostAtFirst)), now);
        else
            heat = heat.Follow(share, Square(amps / outlet.RatingAmps), step);
        if ((now - weighedAt.Value).Duration() >= WearEvery)
            Weigh(now, image, reading, air);
        measured = isFresh ? reading.Celsius : null;
        return Risk(air);
    }

    double AmpsOf(OutletReading reading)
    {
        var most = 0.0;
        if (reading.Closed != false)
            foreach (var leg in outlet.Legs)
                if (reading.Amps[leg] > most) // false where there is no number
                    most = reading.Amps[leg];
        return most;
    }

    void Take(double newer)
    {
        if (newer == amps)
            return;
        (amps, share) = (newer, model.Share(newer));
    }

    void Weigh(DateTimeOffset now, OutletImage image, OutletReading reading, PedestalAir air)
    {
        wear = wear.After((now - weighedAt!.Value).Duration());
        weighedAt = now;
        if (reading.Celsius is not { } celsius || image.Recent[^1].Time is var at && at <= measuredAt)
            return;
        measuredAt = at;
        wear = wear.Measured(celsius - air.Celsius, limits.RiseKelvin * heat.Share);
    }

    ContactRisk Risk(PedestalAir air)
    {
        var outlook = new ContactOutlook(model, measured == null ? heat.Lasting : heat, wear, air.Celsius, air.DriftPerMinute);
        var unit = limits.RiseKelvin * heat.Share;
        var (later, laterSd) = outlook.After(ContactRisk.HorizonMinutes);
        return new(
            measured ?? air.Celsius + wear.RiseKelvin(unit),
            measured == null ? wear.RiseSd(unit) : ContactWear.SensorSd,
            measured != null,
            limits.LimitCelsius,
            outlook,
            air.Celsius + heat.CordRiseKelvin,
            later + Math.Max(ContactRisk.OneInThree * laterSd, ContactRisk.KettleKelvin));
    }

    static double Square(double x) => x * x;

    public PlugMemory Memory() => new(heat, wear, weighedAt, measuredAt, amps, measured);

    /// <returns>The risk as it was last found; null before the first reading.</returns>
    public ContactRisk? Resume(PlugMemory memory, PedestalAir air)
    {
        (heat, wear, weighedAt, measuredAt) = (memory.Heat, memory.Wear, memory.WeighedAt, memory.MeasuredAt);
        (amps, measured) = (memory.Amps, memory.MeasuredCelsius);
        share = amps < 0 ? 0 : model.Share(amps);
        return weighedAt == null ? null : Risk(air);
    }
}

/// <param name="Amps">That flow now; below 0 before the first reading.</param>
/// <param name="MeasuredCelsius">By its sensor, when its risk was last found.</param>
sealed record PlugMemory(
    ConnectorHeat Heat, ContactWear Wear, DateTimeOffset? WeighedAt, DateTimeOffset MeasuredAt, double Amps, double? MeasuredCelsius);
