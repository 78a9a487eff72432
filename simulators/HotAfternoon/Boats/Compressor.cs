using System.Numerics;

namespace Farberth.HotAfternoon;

/// <summary>An air conditioner's sealed single-phase compressor: starts, runs, stalls, cuts out and tries again.</summary>
/// <remarks>
/// Running, at outdoor temperature F (°F), from capacity Q_r (W of cooling at 95 °F):
///   capacity Q(F) = Q_r·(1.48924533 − 0.00514995·F), COP(F) = 3.5/(−0.01363961 + 0.01066989·F), P₀ = Q/COP;
///   S(u) = P₀·(0.2·u² + 0.8) at power factor 0.97. [GridLAB-D house model: curves, COP, 0.2 Z / 0.8 P, pf 0.97]
///   Amps go as 0.2·u + 0.8/u: about +7 % at 0.9 of nominal volts.
///   Many marine units reject heat into the sea and not the air; the curve stands for both here.
/// Stalled below u = 0.55: impedance r = x = 0.1 on the rated VA, so 5 P + 5 Q and 7.07 × rated amps at u = 1.
///   [WECC motor D parameters as in NREL PyDSS]
/// Starting: the same locked impedance for t_s = 0.3 s [restart time there]. A step of Δt seconds carries the RMS of
///   both parts: m = √(w·7.07² + (1 − w)), w = t_s/Δt. Below u = 0.80 it does not come up (assumed).
/// Overload protector: opens after 4 s of locked rotor [thermal time there], closes after 120 s (assumed).
/// Rest between runs: at least 180 s (common practice, lets the pressures even out).
/// </remarks>
public sealed class Compressor(double capacityWatts)
{
    public const double StallVolts = 0.55;
    public const double StartVolts = 0.80;
    const double StartSeconds = 0.3;
    const double ProtectorOpensAfterSeconds = 4;
    const double ProtectorClosesAfterSeconds = 120;
    const double RestSeconds = 180;
    static readonly double LockedAmpsRatio = Math.Sqrt(50);

    double secondsInState = RestSeconds;

    public CompressorState State { get; private set; }

    /// <summary>Heat moved per second while running, W.</summary>
    public double CoolingWatts(double airCelsius) =>
        State == CompressorState.Running ? capacityWatts * (1.48924533 - 0.00514995 * Fahrenheit(airCelsius)) : 0;

    /// <summary>Electrical watts at nominal volts while running.</summary>
    public double RunningWatts(double airCelsius)
    {
        var f = Fahrenheit(airCelsius);
        return capacityWatts / 3.5 * (1.48924533 - 0.00514995 * f) * (-0.01363961 + 0.01066989 * f);
    }

    public Demand Step(Moment moment, bool wanted)
    {
        var before = State;
        secondsInState += moment.Seconds;
        var next = Next(moment, wanted);
        if (next != before)
            secondsInState = 0;
        State = next;
        var running = Demand.Lagging(RunningWatts(moment.Sky.Celsius), 0.97);
        return next switch
        {
            CompressorState.Running when before != CompressorState.Running => Starting(running, moment.Seconds),
            CompressorState.Running => new Demand(0.2 * running, 0, 0.8 * running),
            CompressorState.Stalled => Locked(running, LockedAmpsRatio),
            _ => Demand.None,
        };
    }

    CompressorState Next(Moment moment, bool wanted) => State switch
    {
        _ when !moment.Energised => State == CompressorState.CutOut ? State : CompressorState.Off,
        CompressorState.CutOut when secondsInState < ProtectorClosesAfterSeconds => CompressorState.CutOut,
        CompressorState.Stalled when secondsInState >= ProtectorOpensAfterSeconds => CompressorState.CutOut,
        _ when !wanted => CompressorState.Off,
        CompressorState.Stalled => CompressorState.Stalled,
        CompressorState.Running => moment.Volts < StallVolts ? CompressorState.Stalled : CompressorState.Running,
        CompressorState.Off when secondsInState < RestSeconds => CompressorState.Off,
        _ => moment.Volts < StartVolts ? CompressorState.Stalled : CompressorState.Running,
    };

    static Demand Starting(Complex running, double seconds)
    {
        var w = Math.Min(1, StartSeconds / seconds);
        return Locked(running, Math.Sqrt(w * LockedAmpsRatio * LockedAmpsRatio + 1 - w));
    }

    static Demand Locked(Complex running, double ampsRatio) =>
        new(Complex.FromPolarCoordinates(running.Magnitude * ampsRatio, Math.PI / 4), 0, 0);

    static double Fahrenheit(double celsius) => Math.Max(40, celsius * 1.8 + 32);
}

public enum CompressorState
{
    Off,
    Running,
    Stalled,
    CutOut,
}
