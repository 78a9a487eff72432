using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>What really was during one step; no meter has touched it.</summary>
/// <param name="Time">Start of the step, UTC.</param>
/// <param name="Local">The same at the marina.</param>
public sealed record Truth(DateTimeOffset Time, DateTime Local, Sky Sky, IReadOnlyDictionary<string, DockTruth> Docks);

/// <summary>One dock's volts and amps during one step, by the site's own names.</summary>
/// <param name="CableCelsius">Of the conductors, in the order of the feeder's nodes.</param>
/// <param name="OpenOutlets">Outlets whose breaker is open, as "H7.A".</param>
/// <param name="CanShed">What people aboard could switch off now, A, appliance by appliance; to be asked before the next step.</param>
/// <param name="WithLeft">What the volts would be if only a share of that were left, by outlet and leg; to be asked before the next step.</param>
public sealed record DockTruth(
    Solution Solution, IReadOnlyList<double> CableCelsius, IReadOnlyCollection<string> OpenOutlets,
    Func<IEnumerable<(OutletName Outlet, Leg Leg, double Amps)>> CanShed,
    Func<Func<OutletName, Leg, double>, Solution> WithLeft)
{
    /// <summary>Of each outlet's contacts, by "H7.A".</summary>
    public IReadOnlyDictionary<string, double> ContactCelsius { get; init; } = new Dictionary<string, double>();

    /// <summary>Outlets whose contacts are over their limit, as "H7.A".</summary>
    public IReadOnlyCollection<string> HotContacts { get; init; } = [];

    /// <summary>RMS, leg to neutral, at a point of the feeder.</summary>
    public double Volts(string point, Leg leg) => Volts(Solution, point, leg);

    /// <summary>The same of a solution of another moment or of <see cref="WithLeft"/>.</summary>
    public double Volts(Solution solution, string point, Leg leg) => solution.ToNeutral(Node(point), (int)leg).Magnitude;

    /// <summary>RMS in the cable that leads to a point.</summary>
    public double CableAmps(string cable, Leg conductor) => Solution.AmpsInto(Node(cable), Lane(conductor)).Magnitude;

    /// <summary>RMS dropped along one conductor of the cable that leads to a point.</summary>
    public double CableDropVolts(string cable, Leg conductor)
    {
        var node = Node(cable);
        var lane = Lane(conductor);
        return (Solution.VoltsAt(Solution.Tree.Parents[node], lane) - Solution.VoltsAt(node, lane)).Magnitude;
    }

    /// <summary>RMS drawn by all outlets of a pedestal together.</summary>
    public double PedestalAmps(string pedestal, Leg leg)
    {
        var node = Node(pedestal);
        var amps = Solution.AmpsInto(node, Lane(leg));
        for (var child = node + 1; child < Solution.Tree.Count; child++)
            if (Solution.Tree.Parents[child] == node && !Solution.Tree.IsCord(child))
                amps -= Solution.AmpsInto(child, Lane(leg));
        return amps.Magnitude;
    }

    /// <summary>RMS at one outlet.</summary>
    public double OutletAmps(OutletName outlet, Leg leg) =>
        Solution.AmpsInto(Node(outlet.ToString()), Lane(leg)).Magnitude;

    /// <summary>RMS out of the source's terminals.</summary>
    public double SourceAmps(Leg leg) => Solution.AmpsInto(0, Lane(leg)).Magnitude;

    int Node(string name) => Solution.Tree.IndexOf(name);

    int Lane(Leg leg) => leg == Leg.N ? Solution.Tree.Neutral : (int)leg;
}
