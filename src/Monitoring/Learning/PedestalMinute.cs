using System.Numerics;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Learning;

/// <summary>Means of what one pedestal's meter showed during one minute, each reading held until the next.</summary>
sealed class PedestalMinute(SiteDefinition site, PedestalDefinition definition)
{
    /// <summary>A minute with less of it heard is left out.</summary>
    const double LeastShare = 0.75;

    /// <summary>A reading is held no longer than this: pedestals send at least twice a minute.</summary>
    static readonly TimeSpan HeldFor = TimeSpan.FromSeconds(35);

    readonly int legs = site.Supply.Legs.Count;
    readonly double[] volts = new double[3];
    readonly double[] voltsSum = new double[3];
    readonly Complex[] amps = new Complex[3];
    readonly Complex[] ampsSum = new Complex[3];
    DateTimeOffset? taken;
    int ticks;
    int heard;

    /// <summary>Rated amps of its outlets on each leg.</summary>
    public double[] RatedAmps { get; } = [.. Enumerable.Range(0, 3).Select(leg =>
        definition.Outlets.Values.Where(outlet => outlet.Legs.Contains((Leg)leg)).Sum(outlet => outlet.RatingAmps))];

    /// <summary>√ of the summed squares of the rated amps of its outlets on each leg.</summary>
    public double[] RatedAmpsRootSquares { get; } = [.. Enumerable.Range(0, 3).Select(leg => Math.Sqrt(
        definition.Outlets.Values.Where(outlet => outlet.Legs.Contains((Leg)leg)).Sum(outlet => outlet.RatingAmps * outlet.RatingAmps)))];

    /// <summary>It was heard for most of the minute, with volts on every leg.</summary>
    public bool IsLive => heard > LeastShare * ticks;

    public double Volts(int leg) => voltsSum[leg] / heard;

    public Complex Amps(int leg) => ampsSum[leg] / heard;

    public void Tick(PedestalImage pedestal)
    {
        ticks++;
        if (pedestal.Latest is not { } reading || pedestal.SilentFor > HeldFor)
            return;
        if (reading.Time != taken)
            Take(pedestal, reading);
        for (var leg = 0; leg < legs; leg++)
            if (!(volts[leg] > site.Supply.NominalVolts / 2))
                return;
        heard++;
        for (var leg = 0; leg < legs; leg++)
        {
            voltsSum[leg] += volts[leg];
            ampsSum[leg] += amps[leg];
        }
    }

    public void Clear()
    {
        (ticks, heard) = (0, 0);
        Array.Clear(voltsSum);
        Array.Clear(ampsSum);
    }

    void Take(PedestalImage pedestal, Reading reading)
    {
        taken = reading.Time;
        for (var leg = 0; leg < legs; leg++)
            volts[leg] = reading.Volts[(Leg)leg];
        OutletCurrents.Of(site, pedestal, amps);
    }

    public PedestalMinuteMemory Memory() => new([.. volts], [.. voltsSum], [.. amps], [.. ampsSum], taken, ticks, heard);

    public void Resume(PedestalMinuteMemory memory)
    {
        memory.Volts.CopyTo(volts, 0);
        memory.VoltsSum.CopyTo(voltsSum, 0);
        memory.Amps.CopyTo(amps, 0);
        memory.AmpsSum.CopyTo(ampsSum, 0);
        (taken, ticks, heard) = (memory.Taken, memory.Ticks, memory.Heard);
    }
}

/// <param name="Volts">Of the reading that is held, by leg.</param>
/// <param name="Taken">When that reading was measured.</param>
sealed record PedestalMinuteMemory(
    double[] Volts, double[] VoltsSum, Complex[] Amps, Complex[] AmpsSum, DateTimeOffset? Taken, int Ticks, int Heard);
