using System.Numerics;
using Farberth.Grid.Estimation;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>
/// Ten minutes by ten minutes of a chain of cables whose ohms, gains, joints and loads are known: complex volts step by step outwards,
/// U' = U − Z·J − Z_N·ΣJ, then gains and noise. Whoever learns gets the magnitudes, and the site file's ohms.
/// </summary>
sealed record JointsDay(int Legs = 2)
{
    public const int Cables = 5;
    static readonly Complex FileOhms = new(0.003, 0.0015);
    static readonly Complex PowerFactor = Complex.FromPolarCoordinates(1, -Math.Acos(0.95));
    static readonly DateTimeOffset Midnight = new(2027, 7, 17, 0, 0, 0, TimeSpan.Zero);

    public (int Cable, int Conductor, double Ohms)[] Joints { get; init; } = [];

    /// <summary>Hours until the joints are there.</summary>
    public double BeginAfter { get; init; }

    public int? Silent { get; init; }

    /// <summary>What a silent pedestal draws, as a share of what is guessed; by ten minutes of the day and leg.</summary>
    public Func<int, int, double> SilentShare { get; init; } = (_, _) => 1;

    /// <summary>False: nobody lies at the silent pedestal, and that is guessed.</summary>
    public bool SilentDraws { get; init; } = true;

    /// <summary>By cable, as shares.</summary>
    public double[] LengthErrors { get; init; } = [0.03, -0.04, 0.02, 0.05, -0.03];

    /// <summary>By meter; the second leg has them the other way round.</summary>
    public double[] Gains { get; init; } = [0.004, -0.006, 0.005, -0.002, 0.001];

    public bool Varies { get; init; } = true;

    public int Days { get; init; } = 1;

    public MeteredTree Tree => new([-1, 0, 1, 2, 3], [.. Enumerable.Range(0, Legs).Select(leg => leg == 0 ? Complex.One : -Complex.One)]);

    public static DateTimeOffset At(double hours) => Midnight.AddHours(hours);

    public JointsFit Solved(JointsPrior prior, int first = 0, int cables = Cables)
    {
        var fit = new JointsFit(Tree, prior, first, cables);
        fit.Solve([.. Means()]);
        return fit;
    }

    IEnumerable<TreeMeans> Means()
    {
        var random = new Random(42);
        for (var ten = 0; ten < 144 * Days; ten++)
        {
            var drawn = new Complex[Cables, Legs];
            for (var cable = 0; cable < Cables; cable++)
                for (var leg = 0; leg < Legs; leg++)
                    drawn[cable, leg] = Tree.Directions[leg] * PowerFactor * Draws(random, ten, cable, leg);
            yield return Shown(random, ten, drawn);
        }
    }

    /// <summary>A base that never rests, an evening, and what comes and goes; the second leg has less of the evening.</summary>
    double Draws(Random random, int ten, int cable, int leg)
    {
        var evening = Math.Max(0, Math.Sin(2 * Math.PI * (ten - 60 - 3 * cable) / 144));
        if (cable == Silent && !SilentDraws)
            return 0;
        return Varies ? 3 + (leg == 0 ? 22 : 15 + 2 * cable) * evening + 6 * random.NextDouble() : 20;
    }

    TreeMeans Shown(Random random, int ten, Complex[,] guessed)
    {
        var drawn = (Complex[,])guessed.Clone();
        var guessSd = new double[Cables, Legs];
        for (var leg = 0; leg < Legs && Silent != null; leg++)
        {
            drawn[Silent.Value, leg] *= SilentShare(ten % 144, leg);
            guessSd[Silent.Value, leg] = 7.5; // a quarter of 30 A
        }
        var carried = Tree.Carried(drawn);
        var volts = new double[Cables, Legs];
        for (var leg = 0; leg < Legs; leg++)
        {
            var inside = 121 * Tree.Directions[leg];
            for (var cable = 0; cable < Cables; cable++)
            {
                var back = Enumerable.Range(0, Legs).Aggregate(Complex.Zero, (sum, other) => sum + carried[cable, other]);
                inside -= Ohms(ten, cable, leg) * carried[cable, leg] + Ohms(ten, cable, Legs) * back;
                var gain = leg == 0 ? Gains[cable] : -Gains[cable];
                volts[cable, leg] = cable == Silent ? double.NaN : (1 + gain) * inside.Magnitude + 0.02 * (random.NextDouble() - 0.5);
            }
        }
        Complex[] file = [.. Enumerable.Repeat(FileOhms, Cables)];
        return new(Midnight.AddMinutes(10 * ten), volts, guessed, guessSd, file, file);
    }

    Complex Ohms(int ten, int cable, int conductor) => FileOhms * (1 + LengthErrors[cable])
        + (ten >= 6 * BeginAfter ? Joints.Where(it => it.Cable == cable && it.Conductor == conductor).Sum(it => it.Ohms) : 0);
}
