using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Forecast;

/// <summary>One leg of one outlet, with its past. What it draws is kept as amps at nominal volts, I₀ = I·(V₀/V)^n.</summary>
sealed class OutletLeg
{
    /// <summary>Assumed: an outlet's mean may be off by a fifth of its rating while nothing is known of it.</summary>
    const double AssumedShare = 0.2;

    /// <summary>Two weeks of forecasts: 36 kB each.</summary>
    const int IssuedDays = 14;

    const double EnoughWeight = 4;

    /// <summary>No breaker lets a quarter-hour's mean of more than this through, as a share of the rating (assumed): a meter that says so is wrong.</summary>
    const double MostShare = 2;

    /// <summary>Forecasts are alike that differ by half an ampere and 15 % (assumed).</summary>
    const double BandwidthAmps = 0.5;
    const double BandwidthShare = 0.15;

    /// <summary>Assumed: after so long without drawing, nobody is there.</summary>
    static readonly TimeSpan GoneAfter = TimeSpan.FromHours(2);

    readonly SiteDefinition site;
    readonly OutletDefinition outlet;
    readonly bool isBetweenLegs;
    QuarterMean mean;

    public OutletLeg(SiteDefinition site, string pedestal, OutletDefinition outlet, Leg leg)
    {
        (this.site, this.outlet, Key, Leg) = (site, outlet, new(pedestal, outlet.Name), leg);
        isBetweenLegs = OutletPower.IsBetweenLegs(outlet);
        Series = new(AssumedShare * outlet.RatingAmps, IssuedDays, EnoughWeight);
    }

    public OutletKey Key { get; }

    public Leg Leg { get; }

    public Series Series { get; }

    /// <summary>The legs that its amps load.</summary>
    public IReadOnlyList<Leg> Legs => isBetweenLegs ? outlet.Legs : [Leg];

    /// <summary>Nobody lies there, or nothing has been drawn for long.</summary>
    public bool IsGone { get; private set; }

    /// <summary>One for each leg of each outlet; one alone where its one current flows between two legs.</summary>
    public static IReadOnlyList<OutletLeg> Of(SiteDefinition site, DockDefinition dock) =>
    [
        .. from pedestal in dock.Pedestals.Values
           from outlet in pedestal.Outlets.Values
           from leg in OutletPower.IsBetweenLegs(outlet) ? outlet.Legs.Take(1) : outlet.Legs
           select new OutletLeg(site, pedestal.Name, outlet, leg),
    ];

    public void Tick(PedestalImage pedestal)
    {
        var reading = pedestal.IsFresh ? pedestal.Outlets[outlet.Name].Latest : null;
        mean.Add(reading == null ? double.NaN
            : reading.Closed == false ? 0
            : isBetweenLegs ? OutletPower.AmpsBetweenLegs(outlet, reading) : reading.Amps[Leg]);
    }

    /// <param name="volts">At its pedestal, about now.</param>
    public void Close(long quarter, OutletImage image, double volts, double response, OutdoorAir air, DayOfWeek day, double slopeShare)
    {
        var amps = Math.Min(mean.Close(), MostShare * outlet.RatingAmps);
        var isDead = volts < site.Supply.NominalVolts / 2;
        Series.Close(quarter, isDead ? amps : amps / VoltsFactor(volts, response), air, day, slopeShare);
        IsGone = image.BoatPresent == false || image.LastDrew is not { } drew || Quarters.Start(quarter + 1) - drew > GoneAfter;
    }

    /// <summary>I/I₀ at these volts.</summary>
    public double VoltsFactor(double volts, double response) => Math.Pow(volts / site.Supply.NominalVolts, response);

    public Quantiles At(long now, int horizon) => Series.ByOutcomes(
        now, horizon, IsGone, BandwidthAmps + BandwidthShare * Math.Abs(Series.Centres[horizon]));

    /// <summary>Adds it to a load flow; its n splits it into parts of constant power, current and impedance.</summary>
    public void AddTo(LoadSet loads, double nominalAmps, double response)
    {
        var (supply, n) = (site.Supply, Math.Clamp(response, -1, 1));
        nominalAmps = Math.Min(nominalAmps, MostShare * outlet.RatingAmps);
        var between = isBetweenLegs ? (supply.Direction(outlet.Legs[0]) - supply.Direction(outlet.Legs[1])).Magnitude : 1;
        var load = ZipLoad.ConstantCurrent(nominalAmps, site.Limits.PowerFactor, supply.NominalVolts * between).Current;
        var zip = new ZipLoad(Math.Max(0, n) * load, (1 - Math.Abs(n)) * load, Math.Max(0, -n) * load);
        if (isBetweenLegs)
            loads.Add(Key.Pedestal, outlet.Legs[0], outlet.Legs[1], zip);
        else
            loads.Add(Key.Pedestal, Leg, zip);
    }

    public OutletLegMemory Memory() => new(Key, Leg, IsGone, mean.Memory(), Series.Memory());

    public void Resume(OutletLegMemory memory)
    {
        IsGone = memory.IsGone;
        mean.Resume(memory.Mean);
        Series.Resume(memory.Series);
    }
}

/// <param name="Mean">Of the quarter-hour under way.</param>
sealed record OutletLegMemory(OutletKey Outlet, Leg Leg, bool IsGone, QuarterMeanMemory Mean, SeriesMemory Series);
