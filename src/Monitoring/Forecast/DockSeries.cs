using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Forecast;

/// <summary>
/// A dock as a whole: amps of each leg, kVA, the volts behind the transformer and the lowest volts. Boats act together (heat, the
/// evening, the weekend), so the sum has a past and errors of its own; those of the outlets would not add up to it.
/// </summary>
sealed class DockSeries
{
    /// <summary>Assumed, while nothing has been learned: a fifteenth of all outlets' ratings; 2 V of 120; 1 V behind the transformer.</summary>
    const double AssumedShare = 1.0 / 15;
    const double AssumedVoltsShare = 2.0 / 120;

    /// <summary>Errors are assumed in part for about the first three days.</summary>
    const double EnoughWeight = 12;

    readonly SiteDefinition site;
    readonly Dictionary<Leg, Series> legs = [];
    readonly Dictionary<Leg, Nowcast> nowcasts = [];
    readonly Dictionary<Leg, double[]> slopeShares = [];
    readonly Nowcast kilovoltAmperesNowcast = new();
    readonly Nowcast openCircuitNowcast = new();
    readonly double mostKilovoltAmperes;
    readonly Series kilovoltAmperes;
    readonly Series openCircuit;
    readonly Series lowest;
    QuarterMean kilovoltAmperesMean;
    QuarterMean openCircuitMean;
    QuarterMean lowestMean;

    public DockSeries(SiteDefinition site, DockDefinition dock)
    {
        this.site = site;
        var outlets = dock.Pedestals.Values.SelectMany(pedestal => pedestal.Outlets.Values).ToList();
        double Rated(Leg leg) => outlets.Where(outlet => outlet.Legs.Contains(leg)).Sum(outlet => outlet.RatingAmps);
        foreach (var leg in site.Supply.Legs)
            (legs[leg], nowcasts[leg]) = (Of(AssumedShare * Rated(leg)), new());
        var volts = site.Supply.NominalVolts;
        mostKilovoltAmperes = 2 * site.Supply.Legs.Sum(Rated) * volts / 1000;
        kilovoltAmperes = Of(AssumedShare * site.Supply.Legs.Sum(Rated) * volts / 1000);
        openCircuit = Of(AssumedVoltsShare / 2 * volts);
        lowest = Of(AssumedVoltsShare * volts);
    }

    /// <summary>Of the volts; of the amps it is the same.</summary>
    public double LearnedShare => lowest.LearnedShare;

    public void Tick(DockEstimate estimate)
    {
        kilovoltAmperesMean.Add(Math.Min(estimate.SourceKilovoltAmperes, mostKilovoltAmperes));
        openCircuitMean.Add(Possible(site.Supply.Legs.Average(leg => estimate.OpenCircuitVolts[leg])));
        var volts = double.PositiveInfinity;
        foreach (var pedestal in estimate.Pedestals.Values)
            foreach (var leg in site.Supply.Legs)
                volts = Math.Min(volts, pedestal.Volts[leg]);
        lowestMean.Add(Possible(volts));
    }

    /// <summary>One absurd reading must not stand in the memory for weeks.</summary>
    double Possible(double volts) => Math.Clamp(volts, 0, 2 * site.Supply.NominalVolts);

    public void Close(long quarter, IReadOnlyList<OutletLeg> outlets, OutdoorAir air, DayOfWeek day)
    {
        foreach (var (leg, series) in legs)
            Close(series, nowcasts[leg], quarter, Sum(outlets, leg, its => Latest(its, quarter)), air, day, Profile.AssumedSlopeShare);
        Close(kilovoltAmperes, kilovoltAmperesNowcast, quarter, kilovoltAmperesMean.Close(), air, day, Profile.AssumedSlopeShare);
        Close(openCircuit, openCircuitNowcast, quarter, openCircuitMean.Close(), air, day, 0);
        lowest.Values.Add(quarter, lowestMean.Close());
    }

    static void Close(Series series, Nowcast nowcast, long quarter, double value, OutdoorAir air, DayOfWeek day, double slopeShare)
    {
        series.Close(quarter, value, air, day, slopeShare);
        nowcast.Learn(series.Residuals, quarter);
        nowcast.Close();
    }

    /// <summary>A pedestal that is silent is taken to draw what it drew in the last hours.</summary>
    static double Latest(OutletLeg leg, long quarter)
    {
        var amps = leg.Series.Values[quarter];
        return double.IsNaN(amps) ? leg.Series.Values.Mean(quarter - 4 * Quarters.PerHour, quarter, 0) : amps;
    }

    static double Sum(IReadOnlyList<OutletLeg> outlets, Leg leg, Func<OutletLeg, double> amps)
    {
        var sum = 0.0;
        foreach (var outlet in outlets)
            if (outlet.Legs.Contains(leg))
                sum += amps(outlet);
        return sum;
    }

    /// <summary>How a leg's amps go with the heat at a quarter, as a share of them for each kelvin.</summary>
    public double SlopeShare(long quarter, OutdoorAir air, DayOfWeek day, Leg leg) => Share(Profile.At(
        legs[leg].Values, air.Cooling, quarter, day, air.Cooling[quarter], Profile.AssumedSlopeShare));

    /// <summary>The same at a horizon of the forecast that is being made.</summary>
    public double SlopeShareAhead(Leg leg, int at) => slopeShares[leg][at];

    static double Share(Profile profile) => profile.Mean > 1 ? Math.Clamp(profile.Slope / profile.Mean, 0, 0.15) : Profile.AssumedSlopeShare;

    public void Expect(long now, double[] degrees, DayOfWeek[] days, OutdoorAir air)
    {
        foreach (var (leg, series) in legs)
        {
            series.Expect(now, degrees, days, air, nowcasts[leg], _ => Profile.AssumedSlopeShare);
            slopeShares[leg] = [.. Quarters.Ahead.Select((ahead, at) => Share(Profile.At(
                series.Values, air.Cooling, now + ahead, days[at], degrees[at], Profile.AssumedSlopeShare)))];
        }
        kilovoltAmperes.Expect(now, degrees, days, air, kilovoltAmperesNowcast, _ => Profile.AssumedSlopeShare);
        openCircuit.Expect(now, degrees, days, air, openCircuitNowcast, _ => 0);
    }

    public double OpenCircuitVolts(int at) => openCircuit.Centres[at];

    /// <summary>What the outlets' expectations must be multiplied by to give the dock's.</summary>
    public double Share(Leg leg, int at, IReadOnlyList<OutletLeg> outlets)
    {
        var sum = Sum(outlets, leg, outlet => DockForecaster.Known(outlet.Series.Centres[at]));
        return sum > 0 ? DockForecaster.Known(legs[leg].Centres[at]) / sum : 1;
    }

    /// <summary>Notes what the load flow gives for the lowest volts, and reads the quantiles of everything.</summary>
    public DockAhead Ahead(long now, int at, FlowAhead flow)
    {
        lowest.Centres[at] = flow.Volts;
        return new(
            Quarters.Start(now + Quarters.Ahead[at] + 1), 15 * Quarters.Ahead[at],
            legs.ToDictionary(pair => pair.Key, pair => Amps(pair.Key, pair.Value, now, at, flow)),
            kilovoltAmperes.ByErrors(now, at).Each(kva => Math.Max(0, kva)), flow.Pedestal, flow.Leg, lowest.ByErrors(now, at));
    }

    /// <summary>From amps at nominal volts, added up one by one, to those that the load flow finds in the leg.</summary>
    static Quantiles Amps(Leg leg, Series series, long now, int at, FlowAhead flow)
    {
        var ratio = series.Centres[at] > 0.1 ? flow.State.AmpsInto(DockDefinition.SourcePoint, leg).Magnitude / series.Centres[at] : 1;
        return series.ByErrors(now, at).Each(amps => Math.Max(0, amps * ratio));
    }

    public SagChance Sag(long now, IReadOnlyList<DockAhead> hours, TimeZoneInfo zone) =>
        SagPaths.Chance(lowest, now, hours, site.Limits.Volts, zone);

    /// <summary>Keeps what was expected, for its errors.</summary>
    public void Issue(long now)
    {
        foreach (var series in legs.Values.Append(kilovoltAmperes).Append(openCircuit).Append(lowest))
            series.Issued.Add(now, series.Centres, state: false);
    }

    static Series Of(double assumedSd) => new(assumedSd, QuarterRing.Days, EnoughWeight);

    public DockSeriesMemory Memory() => new(
        legs.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()),
        nowcasts.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()),
        new(kilovoltAmperesMean.Memory(), kilovoltAmperes.Memory(), kilovoltAmperesNowcast.Memory()),
        new(openCircuitMean.Memory(), openCircuit.Memory(), openCircuitNowcast.Memory()),
        lowestMean.Memory(),
        lowest.Memory());

    public void Resume(DockSeriesMemory memory)
    {
        foreach (var (leg, series) in legs)
            series.Resume(memory.Legs[leg]);
        foreach (var (leg, nowcast) in nowcasts)
            nowcast.Resume(memory.Nowcasts[leg]);
        kilovoltAmperesMean.Resume(memory.KilovoltAmperes.Mean);
        kilovoltAmperes.Resume(memory.KilovoltAmperes.Series);
        kilovoltAmperesNowcast.Resume(memory.KilovoltAmperes.Nowcast);
        openCircuitMean.Resume(memory.OpenCircuit.Mean);
        openCircuit.Resume(memory.OpenCircuit.Series);
        openCircuitNowcast.Resume(memory.OpenCircuit.Nowcast);
        lowestMean.Resume(memory.LowestMean);
        lowest.Resume(memory.Lowest);
    }
}

sealed record DockSeriesMemory(
    IReadOnlyDictionary<Leg, SeriesMemory> Legs, IReadOnlyDictionary<Leg, NowcastMemory> Nowcasts, QuantityMemory KilovoltAmperes,
    QuantityMemory OpenCircuit, QuarterMeanMemory LowestMean, SeriesMemory Lowest);

sealed record QuantityMemory(QuarterMeanMemory Mean, SeriesMemory Series, NowcastMemory Nowcast);
