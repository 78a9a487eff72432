using System.Numerics;
using Farberth.Grid.Estimation;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// |I|² of every conductor of every cable: in the last minute, and by hours for a week. Watts in a joint are that times its ohms.
/// </summary>
sealed class CableWatts
{
    readonly CableTreeMinute tree;
    readonly int legs;
    readonly (double Square, double Variance)[,] now;
    readonly WeekOfHours[,] week;
    readonly WeekOfHours[,] weekOfVariance;

    /// <param name="legs">Of the supply.</param>
    public CableWatts(CableTreeMinute tree, int legs)
    {
        (this.tree, this.legs) = (tree, legs);
        now = new (double, double)[tree.Cables.Count, legs + 1];
        (week, weekOfVariance) = (Weeks(), Weeks());
    }

    /// <summary>Takes in what the tree has gathered.</summary>
    public void Add(DateTimeOffset minute)
    {
        for (var cable = 0; cable < tree.Cables.Count; cable++)
        {
            var (back, variance) = (Complex.Zero, 0.0);
            for (var leg = 0; leg < legs; leg++)
            {
                Add(minute, cable, leg, tree.Amps(cable, leg), tree.AmpsVariance(cable, leg));
                back += tree.Amps(cable, leg);
                variance += tree.AmpsVariance(cable, leg);
            }
            Add(minute, cable, legs, back, variance);
        }
    }

    /// <summary>Heat in a joint now, W, and one standard deviation.</summary>
    public (double Watts, double Sd) Now(BadJoint joint) =>
        Heat(joint, now[joint.At.Cable, joint.At.Conductor].Square, now[joint.At.Cable, joint.At.Conductor].Variance);

    /// <summary>The same in the hour of the last seven days with the most.</summary>
    public (double Watts, double Sd) Worst(BadJoint joint) => Heat(
        joint, week[joint.At.Cable, joint.At.Conductor].Highest, weekOfVariance[joint.At.Cable, joint.At.Conductor].Highest);

    /// <summary>P = ΔR·I², so (s_P/P)² = (s_ΔR/ΔR)² + (2·s_I/I)², s_I by the silent pedestals and the meters' class.</summary>
    static (double Watts, double Sd) Heat(BadJoint joint, double square, double variance)
    {
        var ofOhms = joint.OhmsSd / joint.Ohms;
        var ofMeters = 2 * JointAssumptions.AmpsShareSd;
        var ofSilent = 4 * variance / Math.Max(square, double.Epsilon);
        var watts = joint.Ohms * square;
        return (watts, watts * Math.Sqrt(ofOhms * ofOhms + ofMeters * ofMeters + (square > 0 ? ofSilent : 0)));
    }

    void Add(DateTimeOffset minute, int cable, int conductor, Complex amps, double variance)
    {
        var square = amps.Real * amps.Real + amps.Imaginary * amps.Imaginary;
        now[cable, conductor] = (square, variance);
        week[cable, conductor].Add(minute, square);
        weekOfVariance[cable, conductor].Add(minute, variance);
    }

    WeekOfHours[,] Weeks()
    {
        var weeks = new WeekOfHours[tree.Cables.Count, legs + 1];
        for (var cable = 0; cable < tree.Cables.Count; cable++)
            for (var conductor = 0; conductor <= legs; conductor++)
                weeks[cable, conductor] = new();
        return weeks;
    }

    public CableWattsMemory Memory() => new(
        Each(now, one => one.Square), Each(now, one => one.Variance), [.. Each(week)], [.. Each(weekOfVariance)]);

    public void Resume(CableWattsMemory memory)
    {
        var (weeks, variances) = (memory.Week.GetEnumerator(), memory.WeekOfVariance.GetEnumerator());
        for (var cable = 0; cable < now.GetLength(0); cable++)
            for (var conductor = 0; conductor <= legs && weeks.MoveNext() && variances.MoveNext(); conductor++)
            {
                now[cable, conductor] = (memory.Square[cable, conductor], memory.Variance[cable, conductor]);
                week[cable, conductor].Resume(weeks.Current);
                weekOfVariance[cable, conductor].Resume(variances.Current);
            }
    }

    static double[,] Each((double Square, double Variance)[,] all, Func<(double Square, double Variance), double> one)
    {
        var each = new double[all.GetLength(0), all.GetLength(1)];
        for (var cable = 0; cable < all.GetLength(0); cable++)
            for (var conductor = 0; conductor < all.GetLength(1); conductor++)
                each[cable, conductor] = one(all[cable, conductor]);
        return each;
    }

    static IEnumerable<WeekOfHoursMemory> Each(WeekOfHours[,] weeks) => weeks.Cast<WeekOfHours>().Select(its => its.Memory());
}

/// <param name="Square">|I|² of the last minute, A², by cable and conductor.</param>
/// <param name="Variance">Of it by the silent pedestals, A².</param>
/// <param name="Week">Cable after cable, conductor after conductor.</param>
sealed record CableWattsMemory(
    double[,] Square, double[,] Variance, IReadOnlyList<WeekOfHoursMemory> Week, IReadOnlyList<WeekOfHoursMemory> WeekOfVariance);
