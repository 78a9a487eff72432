using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>
/// The most likely volts and amps of a radial feeder by weighted least squares over noisy volts and amps, with the
/// standard deviation of each, by one exact elimination along the tree. Made once and used again: an estimate allocates nothing.
/// </summary>
/// <remarks>
/// Linear about a load flow (U⁰, J⁰) with the measured amps. For each leg, real deviations: v_i of the volts' magnitude at bus i,
/// J_i of the amps into it along their own angle, a_i of its load's amps.
///   v_i = v_p − Z_i·J_i + w_i,   J_i = a_i + Σ_children J_c,   v_0 = e
/// Z_i,jk = Re( conj(û_j)·loop_jk·ĵ_k ), û and ĵ the unit phasors of volts and amps. w_i is what the cable's stated length and
/// temperature leave open: sd ε·|Z_i·J⁰_i|. Measured: y_i = |V_i| − |U⁰_i| with sd σ_i; a_i = 0 with the amps' sd; e has a wide prior.
///
/// Upwards, from the outermost bus: what the subtree of i says of (v_i, J_i), a Message, loses v_i by v_i = u + w_i,
/// takes u = v_p − Z_i·J_i, and joins its parent's (v_p, K), K the amps gathered there so far: with K' = K + J_i, J_i is
/// eliminated. Downwards the eliminated come back in reverse order with means and covariances. Exact for the linear model;
/// linear in the number of buses.
/// Source for the problem: weighted least-squares state estimation as in the textbooks (Abur and Gómez Expósito, Power
/// System State Estimation); the elimination along the tree is derived here.
/// </remarks>
public sealed class StateEstimator
{
    readonly Feeder feeder;
    readonly int legs;
    readonly Block[] drop;
    readonly Message[] messages;
    readonly Elimination[] volts;
    readonly Elimination[] amps;
    readonly Block[] cableNoise; // as information, 1/sd²
    readonly Posterior[] posteriors;
    readonly Triple[] voltsMagnitude; // of the load flow, asked for many times
    readonly Triple[] ampsMagnitude;

    public StateEstimator(Feeder feeder, EstimatorNoise noise)
    {
        this.feeder = feeder;
        Noise = noise;
        legs = feeder.Supply.Legs.Count;
        var buses = feeder.Buses.Count;
        drop = new Block[buses];
        messages = new Message[buses];
        volts = new Elimination[buses];
        amps = new Elimination[buses];
        cableNoise = new Block[buses];
        posteriors = new Posterior[buses];
        (voltsMagnitude, ampsMagnitude) = (new Triple[buses], new Triple[buses]);
        Estimate = new FeederEstimate(feeder);
    }

    public EstimatorNoise Noise { get; }

    /// <summary>The result of the last <see cref="Run"/>; overwritten by the next.</summary>
    public FeederEstimate Estimate { get; }

    /// <param name="about">A load flow with the measured amps; the estimate is linear about it.</param>
    public FeederEstimate Run(Measurements measured, LoadFlowState about)
    {
        for (var bus = 0; bus < messages.Length; bus++)
        {
            (voltsMagnitude[bus], ampsMagnitude[bus]) = (Magnitudes(about.Volts[bus]), Magnitudes(about.Amps[bus]));
            messages[bus] = Local(measured, bus);
        }
        for (var bus = messages.Length - 1; bus > 0; bus--)
            Gather(about, bus);
        posteriors[0] = Solve(messages[0]);
        Estimate.Begin(about);
        Estimate.AddResidual(posteriors[0].X - Deviations(measured, 0), new(SourceInformation, SourceInformation, SourceInformation));
        for (var bus = 1; bus < posteriors.Length; bus++)
            Spread(bus);
        for (var bus = 0; bus < posteriors.Length; bus++)
            Estimate.Put(bus, voltsMagnitude[bus], ampsMagnitude[bus], measured, posteriors[bus]);
        return Estimate;
    }

    double SourceInformation => 1 / (Noise.SourceVoltsSd * Noise.SourceVoltsSd);

    /// <summary>Measured volts of a bus, or what the source is stated to hold, less the load flow's; 0 where there are none.</summary>
    Triple Deviations(Measurements measured, int bus)
    {
        var y = new Triple();
        for (var leg = 0; leg < measured.Feeder.Supply.Legs.Count; leg++)
            if (measured.Volts[bus * Measurements.MaxLegs + leg] is { IsThere: true } reading)
                y = y.With(leg, reading.Value - voltsMagnitude[bus][leg]);
        return y;
    }

    /// <summary>What the meters of one bus say of its own (v, a); at the root, the prior of the source.</summary>
    Message Local(Measurements measured, int bus)
    {
        var (vv, hv, aa) = (new Triple(), new Triple(), new Triple(1, 1, 1));
        var y = Deviations(measured, bus);
        for (var leg = 0; leg < legs; leg++)
        {
            var reading = measured.Volts[bus * Measurements.MaxLegs + leg];
            var information = bus == 0 ? SourceInformation : reading.IsThere ? 1 / (reading.Sd * reading.Sd) : 0;
            var ampsSd = measured.Amps[bus * Measurements.MaxLegs + leg].Sd;
            (vv, hv, aa) = (vv.With(leg, information), hv.With(leg, information * y[leg]), aa.With(leg, 1 / (ampsSd * ampsSd)));
        }
        for (var leg = legs; leg < Measurements.MaxLegs; leg++)
            vv = vv.With(leg, 1);
        return new(Block.Diagonal(vv), default, Block.Diagonal(aa), hv, default);
    }

    /// <summary>Carries the message of a bus through its cable and into its parent's.</summary>
    void Gather(LoadFlowState about, int bus)
    {
        LineariseDrop(about, bus);
        var (Z, W, m) = (drop[bus], cableNoise[bus], messages[bus]);
        // v_i = u + w: over (u, J, v_i) the noise adds W·(v_i − u)².
        var u = Elimination.Out(new(W, default, m.Kk, default, m.Hk), m.Xx + W, -W, m.Xk.Transposed, m.Hx, out volts[bus]);
        // u = v_p − Z·J.
        var zt = Z.Transposed;
        var uJ = u.Xk - u.Xx * Z;
        var child = new Message(u.Xx, uJ, u.Kk - zt * u.Xk - u.Xk.Transposed * Z + zt * u.Xx * Z, u.Hx, u.Hk - zt * u.Hx);
        // K = K' − J.
        var p = messages[feeder.Parent[bus]];
        messages[feeder.Parent[bus]] = Elimination.Out(
            new(p.Xx + child.Xx, p.Xk, p.Kk, p.Hx + child.Hx, p.Hk),
            p.Kk + child.Kk, child.Xk - p.Xk, -p.Kk, child.Hk - p.Hk, out amps[bus]);
    }

    /// <summary>Brings back what was eliminated on the way from a bus to its parent.</summary>
    void Spread(int bus)
    {
        var parent = posteriors[feeder.Parent[bus]];
        var (J, vJ, KJ, JJ) = amps[bus].Back(parent);
        posteriors[feeder.Parent[bus]] = new(
            parent.X, parent.K - J, parent.Xx, parent.Xk - vJ, parent.Kk - KJ - KJ.Transposed + JJ);
        var Z = drop[bus];
        var uJ = vJ - Z * JJ;
        var uu = parent.Xx - vJ * Z.Transposed - Z * uJ.Transposed;
        var u = new Posterior(parent.X - Z * J, J, uu, uJ, JJ);
        var (v, _, Jv, vv) = volts[bus].Back(u);
        posteriors[bus] = new(v, J, vv, Jv.Transposed, JJ);
        Estimate.AddResidual(v - u.X, cableNoise[bus].OnDiagonal);
        Estimate.PutAmps(bus, J, JJ);
    }

    /// <summary>At the root nothing is left but (e, K): the two are solved at once.</summary>
    static Posterior Solve(Message m)
    {
        var e = Elimination.Out(m, m.Kk, m.Xk, default, m.Hk, out var how);
        var ee = e.Xx.Inverse();
        var known = new Posterior(ee * e.Hx, default, ee, default, default);
        var (K, eK, _, KK) = how.Back(known);
        return new(known.X, K, ee, eK, KK);
    }

    void LineariseDrop(LoadFlowState about, int bus)
    {
        var information = new Triple(1, 1, 1);
        Span<double> entries = stackalloc double[9];
        entries.Clear();
        var impedance = feeder.Loop[bus];
        Span<Complex> along = stackalloc Complex[legs];
        Span<double> amps = stackalloc double[legs];
        for (var leg = 0; leg < legs; leg++)
        {
            amps[leg] = ampsMagnitude[bus][leg];
            // Where little flows, more would flow at the angle of the volts.
            along[leg] = amps[leg] > 0.01 ? about.Amps[bus][leg] / amps[leg] : Unit(about, bus, leg);
        }
        for (var row = 0; row < legs; row++)
        {
            var direction = Complex.Conjugate(Unit(about, bus, row));
            var lost = 0.0;
            for (var column = 0; column < legs; column++)
            {
                var ohms = (direction * impedance[row, column] * along[column]).Real;
                entries[row * 3 + column] = ohms;
                lost += ohms * amps[column];
            }
            var sd = Math.Max(Noise.LeastDropSd, Noise.CableShare * Math.Abs(lost));
            information = information.With(row, 1 / (sd * sd));
        }
        (drop[bus], cableNoise[bus]) = (Block.From(entries), Block.Diagonal(information));
    }

    /// <summary>Along the volts.</summary>
    Complex Unit(LoadFlowState about, int bus, int leg) => about.Volts[bus][leg] / voltsMagnitude[bus][leg];

    static Triple Magnitudes(Phasors phasors)
    {
        var all = phasors.Magnitudes;
        return new(all[0], all[1], all[2]);
    }
}

/// <summary>How far the model itself may be off.</summary>
/// <param name="SourceVoltsSd">Of the source about the stated no-load volts, V.</param>
/// <param name="CableShare">Of a cable's drop: its stated length and its temperature.</param>
/// <param name="LeastDropSd">V; keeps the arithmetic sound where nothing flows.</param>
public readonly record struct EstimatorNoise(double SourceVoltsSd, double CableShare, double LeastDropSd)
{
    public static EstimatorNoise Usual(SupplySystem supply) => new(0.05 * supply.NominalVolts, 0.25, 0.05);
}
