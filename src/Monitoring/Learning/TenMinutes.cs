using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>Gathers the minutes of a dock into means of ten, which is what is remembered of them.</summary>
sealed class TenMinutes(SiteDefinition site, CableTreeMinute tree)
{
    public static readonly TimeSpan Long = TimeSpan.FromMinutes(10);

    /// <summary>A meter that was heard in a smaller share of the minutes counts as silent.</summary>
    const double LeastShare = 0.75;

    readonly int legs = site.Supply.Legs.Count;
    readonly double[,] volts = new double[tree.Cables.Count, 3];
    readonly Complex[,] heardAmps = new Complex[tree.Cables.Count, 3];
    readonly Complex[,] guessedAmps = new Complex[tree.Cables.Count, 3];
    readonly double[,] guessSd = new double[tree.Cables.Count, 3];
    readonly double[] celsius = new double[tree.Cables.Count];
    readonly int[] heard = new int[tree.Cables.Count];
    int minutes;

    /// <summary>Takes in what the tree has gathered.</summary>
    /// <param name="conductorCelsius">Of a cable.</param>
    public void Add(Func<int, double> conductorCelsius)
    {
        minutes++;
        for (var cable = 0; cable < heard.Length; cable++)
        {
            celsius[cable] += conductorCelsius(cable);
            if (tree.IsLive(cable))
                AddHeard(cable);
            else
                AddGuess(cable);
        }
    }

    void AddHeard(int cable)
    {
        heard[cable]++;
        for (var leg = 0; leg < legs; leg++)
        {
            volts[cable, leg] += tree.Pedestals[cable]!.Volts(leg);
            heardAmps[cable, leg] += tree.Drawn(cable, leg);
        }
    }

    void AddGuess(int cable)
    {
        for (var leg = 0; leg < legs; leg++)
        {
            guessedAmps[cable, leg] += tree.Drawn(cable, leg);
            guessSd[cable, leg] = tree.DrawnSd(cable, leg);
        }
    }

    /// <summary>Their means; null where there are none. Begins anew.</summary>
    /// <param name="from">When they began.</param>
    public TreeMeans? Close(DateTimeOffset from)
    {
        if (minutes == 0)
            return null;
        var means = new TreeMeans(
            from, Each(Volts), Each(Amps), Each((cable, leg) => IsHeard(cable) ? 0 : guessSd[cable, leg]),
            [.. tree.Cables.Select((cable, at) => Ohms(cable, cable.Conductor, at))],
            [.. tree.Cables.Select((cable, at) => Ohms(cable, cable.Neutral, at))]);
        Clear();
        return means;
    }

    bool IsHeard(int cable) => heard[cable] >= LeastShare * minutes;

    double Volts(int cable, int leg) => IsHeard(cable) ? volts[cable, leg] / heard[cable] : double.NaN;

    Complex Amps(int cable, int leg) => IsHeard(cable)
        ? heardAmps[cable, leg] / heard[cable]
        : guessedAmps[cable, leg] / (minutes - heard[cable]);

    Complex Ohms(CableDefinition cable, Grid.Conductors.Conductor wire, int at) => cable.LengthMetres / cable.Sets * new Complex(
        wire.OhmsPerMetre(celsius[at] / minutes, cable.Raceway),
        wire.ReactanceOhmsPerMetre(cable.Raceway, site.Supply.Hertz));

    T[,] Each<T>(Func<int, int, T> value)
    {
        var all = new T[heard.Length, legs];
        for (var cable = 0; cable < heard.Length; cable++)
            for (var leg = 0; leg < legs; leg++)
                all[cable, leg] = value(cable, leg);
        return all;
    }

    void Clear()
    {
        minutes = 0;
        foreach (Array sums in new Array[] { volts, heardAmps, guessedAmps, guessSd, celsius, heard })
            Array.Clear(sums);
    }

    public TenMinutesMemory Memory() => new(
        Copy(volts), Copy(heardAmps), Copy(guessedAmps), Copy(guessSd), [.. celsius], [.. heard], minutes);

    public void Resume(TenMinutesMemory memory)
    {
        Array.Copy(memory.Volts, volts, volts.Length);
        Array.Copy(memory.HeardAmps, heardAmps, heardAmps.Length);
        Array.Copy(memory.GuessedAmps, guessedAmps, guessedAmps.Length);
        Array.Copy(memory.GuessSd, guessSd, guessSd.Length);
        Array.Copy(memory.Celsius, celsius, celsius.Length);
        Array.Copy(memory.Heard, heard, heard.Length);
        minutes = memory.Minutes;
    }

    static T[,] Copy<T>(T[,] all) => (T[,])all.Clone();
}

/// <summary>Sums, by cable and leg.</summary>
sealed record TenMinutesMemory(
    double[,] Volts, Complex[,] HeardAmps, Complex[,] GuessedAmps, double[,] GuessSd, double[] Celsius, int[] Heard, int Minutes);
