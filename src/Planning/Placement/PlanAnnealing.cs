namespace Farberth.Planning.Placement;

// With x_c = 1 for the berths of a plan and w = v, the rows are passed by
//
//     E(x) = Σ_r max(0, Σ_c value_rc·x_c − room_r)
//
// volts, or tenths of a bound where a row is a limit. A boat drawn by lot goes to another berth drawn by lot; where somebody is in its way, the two
// change places. What that makes of E is taken if it is not more, and with probability e^(−ΔE/T) if it is; T falls geometrically (simulated
// annealing: Kirkpatrick, Gelatt and Vecchi, Science 220, 1983). E = 0: a plan with w ≤ v. A move touches the rows of two berths, so there are some
// hundred thousand a second, and where many plans are nearly as good as the best one of them is found long before a tree is searched through.

/// <summary>Looks for a plan with less sag than is stated, by small random changes of another. It finds; it proves nothing.</summary>
sealed class PlanAnnealing
{
    const double HotVolts = 0.2, ColdVolts = 0.002;

    /// <summary>So much counts the whole of a bound, V: one that is passed by a hundredth like a tenth of a volt.</summary>
    const double VoltsPerBound = 10;

    const double Nothing = 1e-9;

    const int AskedEvery = 4096;

    readonly Random random;
    readonly Boat[] boats;
    readonly Boat[] movable;
    readonly (int Row, double Value)[][] columns;
    readonly double[] rooms;
    readonly double[] loads;
    readonly double[] changes;
    readonly List<int> touched = [];

    /// <summary>One who has a berth in the plan that it begins with.</summary>
    sealed class Boat(Guest guest, Choice[] choices, Choice at)
    {
        public Guest Guest => guest;

        public Choice[] Choices => choices;

        public Choice At { get; set; } = at;

        /// <summary>Who is there at the same time.</summary>
        public Boat[] Others { get; set; } = [];

        /// <summary>Of all others but one.</summary>
        public bool IsFree(string slip, Boat but) => Array.TrueForAll(Others, other => other == but || other.At.Berth.Slip != slip);
    }

    /// <param name="from">It keeps its places; who has not moved in it does not.</param>
    /// <param name="aimVolts">v.</param>
    public PlanAnnealing(PlacementRows rows, Plan from, double aimVolts, Random random)
    {
        this.random = random;
        (rooms, loads, changes) = (new double[rows.Rows.Count], new double[rows.Rows.Count], new double[rows.Rows.Count]);
        var terms = rows.Choices.Select(_ => new List<(int, double)>()).ToArray();
        for (var at = 0; at < rooms.Length; at++)
        {
            var (row, scale) = (rows.Rows[at], rows.Rows[at].IsSag ? 1 : VoltsPerBound);
            rooms[at] = scale * (row.Room + (row.IsSag ? rows.AllowedVolts(row.Dock, aimVolts) : 0));
            foreach (var (choice, value) in row.Terms)
                terms[choice].Add((at, scale * value));
        }
        columns = [.. terms.Select(column => column.ToArray())];
        boats = [.. rows.Choices.GroupBy(choice => choice.Guest).Where(own => from.Berths.ContainsKey(own.Key)).Select(own =>
        {
            var at = own.First(from.Takes);
            return new Boat(own.Key, [.. own.Where(choice => !choice.IsMove || at.IsMove)], at);
        })];
        movable = [.. boats.Where(boat => boat.Choices.Length > 1)];
        foreach (var boat in boats)
        {
            boat.Others = [.. boats.Where(other => other != boat && other.Guest.Arrival.Overlaps(boat.Guest.Arrival))];
            foreach (var (row, value) in columns[boat.At.At])
                loads[row] += value;
        }
    }

    /// <summary>As good as it got: where it ended, cold.</summary>
    public Plan Plan => new(boats.ToDictionary(boat => boat.Guest, boat => boat.At.Berth));

    /// <summary>By how much that misses v as the rows have it, V; 0: it does not.</summary>
    public double MissedVolts => loads.Zip(rooms, (load, room) => load - room).Append(0).Max();

    /// <param name="moves">How many are tried.</param>
    /// <param name="isOver">Asked now and then: stop here.</param>
    /// <returns>There is one, as far as the rows know.</returns>
    public bool Run(int moves, Func<bool> isOver)
    {
        var passed = loads.Zip(rooms, (load, room) => Math.Max(0, load - room)).Sum();
        for (var move = 0; move < moves && passed > Nothing && movable.Length > 0 && (move % AskedEvery != 0 || !isOver()); move++)
        {
            var boat = movable[random.Next(movable.Length)];
            var to = boat.Choices[random.Next(boat.Choices.Length)];
            if (to == boat.At || !TryTurn(boat, to, out var other, out var otherTo))
                continue;
            var change = Change(boat, to, other, otherTo);
            var volts = HotVolts * Math.Pow(ColdVolts / HotVolts, (double)move / moves);
            if (change > 0 && random.NextDouble() >= Math.Exp(-change / volts))
                continue;
            passed += change;
            Take(boat, to);
            if (other != null)
                Take(other, otherTo!);
        }
        return passed <= Nothing;
    }

    /// <summary>Who has to go where this boat is, if anybody.</summary>
    /// <returns>False: more than one would have to go, or the other one cannot lie there.</returns>
    bool TryTurn(Boat boat, Choice to, out Boat? other, out Choice? otherTo)
    {
        (other, otherTo) = (null, null);
        var (slip, old) = (to.Berth.Slip, boat.At.Berth.Slip);
        if (slip == old)
            return true;
        foreach (var there in boat.Others)
        {
            if (there.At.Berth.Slip != slip)
                continue;
            if (other != null)
                return false;
            other = there;
        }
        if (other is null)
            return true;
        List<Choice> turns = [.. other.Choices.Where(choice => choice.Berth.Slip == old)];
        if (turns.Count == 0 || !other.IsFree(old, boat))
            return false;
        otherTo = turns[random.Next(turns.Count)];
        return true;
    }

    /// <summary>ΔE.</summary>
    double Change(Boat boat, Choice to, Boat? other, Choice? otherTo)
    {
        touched.Clear();
        Touch(boat.At, -1);
        Touch(to, 1);
        if (other != null)
        {
            Touch(other.At, -1);
            Touch(otherTo!, 1);
        }
        var change = 0.0;
        foreach (var row in touched)
        {
            var over = loads[row] - rooms[row];
            change += Math.Max(0, over + changes[row]) - Math.Max(0, over);
            changes[row] = 0;
        }
        return change;
    }

    void Touch(Choice choice, int sign)
    {
        foreach (var (row, value) in columns[choice.At])
        {
            if (changes[row] == 0)
                touched.Add(row);
            changes[row] += sign * value;
        }
    }

    void Take(Boat boat, Choice to)
    {
        foreach (var (row, value) in columns[boat.At.At])
            loads[row] -= value;
        foreach (var (row, value) in columns[to.At])
            loads[row] += value;
        boat.At = to;
    }
}
