using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

// From the sums (CableResistanceSums) to joints. Most cables have no bad joint, so the unknowns ΔR_c are let in one by
// one, each only when the readings ask for it (forward selection). For a set S of conductors that are let in, with ε and
// γ always in, Bayesian least squares:
//
//     (A_S/σ² + P)·x = b_S/σ²       P = diag(1/s_ε², 1/s_γ², …, 1/s_ΔR², …), the prior
//     χ²(S) = (c − b_Sᵀ·x)/σ²       of the readings and the prior together, at the best x
//
// σ² is the variance of one minute, found from what the fullest model leaves over, times K: what is left over in
// neighbouring minutes is alike (the same compressor, the same warm cable), so K of them count as one. A conductor is let
// in if χ² falls by more than z² and its ΔR is above z standard deviations; the one that lets χ² fall most comes first. If
// another would do nearly as well, the two cannot be told apart, and both are named. On a supply with one leg, L1 and N
// carry the same current: there they never can.

/// <summary>What is taken to be likely before anything is read; standard deviations, one each.</summary>
/// <param name="LengthShareSd">s_ε: the site file's length, the temperature and the ordinary joints, as a share of the cable.</param>
/// <param name="ExcessOhmsSd">s_ΔR: wide.</param>
/// <param name="GainShareSd">s_γ: of the difference of two meters' gains.</param>
/// <param name="NoiseVoltsSd">Least noise of one minute, V.</param>
/// <param name="MinutesAlike">K.</param>
/// <param name="Threshold">z, in standard deviations.</param>
public readonly record struct JointsPrior(
    double LengthShareSd, double ExcessOhmsSd, double GainShareSd, double NoiseVoltsSd, double MinutesAlike, double Threshold);

/// <summary>One conductor that has more ohms than it should.</summary>
/// <param name="OrElse">Conductors that would explain the readings nearly as well.</param>
public sealed record JointEstimate(Leg Conductor, double ExcessOhms, double ExcessOhmsSd, IReadOnlyList<Leg> OrElse);

/// <summary>The joints that the sums of one cable show.</summary>
/// <param name="LengthShare">ε.</param>
/// <param name="NoiseVoltsSd">Of one minute, V.</param>
public sealed record JointsFit(double LengthShare, double NoiseVoltsSd, IReadOnlyList<JointEstimate> Joints)
{
    /// <summary>A rival whose χ² is within this of the best cannot be told apart from it: three standard deviations.</summary>
    const double Alike = 9;

    public static JointsFit Of(CableResistanceSums sums, JointsPrior prior)
    {
        Leg[] conductors = [.. Enumerable.Range(0, sums.Legs).Select(leg => (Leg)leg), Leg.N];
        var noise = Math.Max(prior.NoiseVoltsSd, NoiseVolts(sums, prior, conductors));
        JointsModel Try(IEnumerable<Leg> chosen) => new(sums, prior, noise * noise * prior.MinutesAlike, [.. chosen]);
        var best = Try([]);
        var orElse = new Dictionary<Leg, IReadOnlyList<Leg>>();
        while (Next(best, conductors, prior.Threshold, Try) is { } next)
        {
            orElse[next.Model.Chosen[^1]] = next.OrElse;
            best = next.Model;
        }
        return new(best.LengthShare, noise, [.. best.Chosen.Select(conductor => new JointEstimate(
            conductor, best.Ohms(conductor), best.OhmsSd(conductor), orElse[conductor]))]);
    }

    /// <summary>σ of one minute from what the fullest model leaves over.</summary>
    static double NoiseVolts(CableResistanceSums sums, JointsPrior prior, Leg[] conductors)
    {
        var full = new JointsModel(sums, prior, prior.NoiseVoltsSd * prior.NoiseVoltsSd, conductors);
        return Math.Sqrt(Math.Max(0, full.LeftOver) / Math.Max(1, sums.Count - sums.Unknowns));
    }

    static (JointsModel Model, IReadOnlyList<Leg> OrElse)? Next(
        JointsModel now, Leg[] conductors, double threshold, Func<IEnumerable<Leg>, JointsModel> tryOut)
    {
        var rivals = conductors.Except(now.Chosen)
            .Select(conductor => (Conductor: conductor, Model: tryOut(now.Chosen.Append(conductor))))
            .Where(rival => rival.Model.Ohms(rival.Conductor) > threshold * rival.Model.OhmsSd(rival.Conductor)
                && now.ChiSquared - rival.Model.ChiSquared > threshold * threshold)
            .OrderBy(rival => rival.Model.ChiSquared)
            .ToList();
        if (rivals.Count == 0)
            return null;
        var best = rivals[0].Model;
        return (best, [.. rivals.Skip(1)
            .Where(rival => rival.Model.ChiSquared - best.ChiSquared < Alike)
            .Select(rival => rival.Conductor)]);
    }
}
