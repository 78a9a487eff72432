using System.Globalization;
using System.Text;
using Farberth.Monitoring.Site;
using Farberth.Planning.Loads;
using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests;

/// <summary>Invented marinas and guests, drawn by a seed. Two slips at each pedestal, conductors that get smaller outwards.</summary>
static class InventedMarina
{
    public static readonly DateTimeOffset Start = new(2027, 7, 16, 18, 0, 0, TimeSpan.Zero);

    static readonly Cord Small = new(30, 1, true), Large = new(50, 2, true);

    public static SiteDefinition Site(int docks, int slipsPerDock, Random random)
    {
        var text = new StringBuilder("""
            site: teal-bank
            timezone: America/New_York
            supply: 120/240 V single-phase 3-wire
            docks:

            """);
        var slips = new StringBuilder("slips:\n");
        for (var dock = 0; dock < docks; dock++)
            Dock(text, slips, (char)('A' + dock), slipsPerDock, random);
        return Read(text.Append(slips).ToString());
    }

    public static SiteDefinition Read(string yaml)
    {
        var result = SiteFile.Read(yaml);
        Assert.Empty(result.Mistakes);
        return result.Site!;
    }

    static void Dock(StringBuilder text, StringBuilder slips, char name, int slipCount, Random random)
    {
        var pedestals = (slipCount + 1) / 2;
        text.Append(CultureInfo.InvariantCulture, $"""
              {name}:
                source: {"{"} no-load: 122 V, transformer: {"{"} rating: {(slipCount > 30 ? 167 : 100)} kVA, impedance: 2.4 %, x/r: 1.6 {"}"} {"}"}
                cables:

            """);
        for (var at = 1; at <= pedestals; at++)
        {
            var from = at == 1 ? "source" : $"{name}{at - 1}";
            var conductor = 3 * at <= pedestals ? "500 kcmil Al" : 3 * at <= 2 * pedestals ? "350 kcmil Al" : "4/0 AWG Al";
            text.Append(CultureInfo.InvariantCulture,
                $"      - {{ from: {from}, to: {name}{at}, length: {(at == 1 ? 100 : 24)} ft, conductor: {conductor}, raceway: pvc, sets: {(2 * at <= pedestals ? 2 : 1)} }}\n");
        }
        text.Append("    pedestals:\n");
        for (var at = 1; at <= pedestals; at++)
        {
            text.Append(CultureInfo.InvariantCulture, $"      {name}{at}: {{ outlets: {{ ");
            Slip(text, slips, name, 2 * at - 1, "A", "B", random);
            text.Append(", ");
            Slip(text, slips, name, 2 * at, "C", "D", random);
            text.Append(" } }\n");
        }
    }

    /// <summary>Either two 30 A outlets, or one of 30 A and one of 50 A; legs as somebody happened to wire them.</summary>
    static void Slip(StringBuilder text, StringBuilder slips, char dock, int number, string first, string second, Random random)
    {
        var (leg, other) = random.Next(2) == 0 ? ("L1", "L2") : ("L2", "L1");
        var slip = $"{dock}-{number}";
        text.Append(CultureInfo.InvariantCulture, $"{first}: {{ rating: 30 A, legs: [{leg}], slip: {slip} }}, ");
        text.Append(random.Next(3) == 0
            ? $"{second}: {{ rating: 50 A, legs: [L1, L2], slip: {slip} }}" : $"{second}: {{ rating: 30 A, legs: [{other}], slip: {slip} }}");
        slips.Append(CultureInfo.InvariantCulture, $"  {slip}: {{ length: {random.Next(32, 52)} ft, beam: {random.Next(13, 18)} ft, depth: {random.Next(5, 9)} ft }}\n");
    }

    /// <summary>Boats that come over some days, in the order in which they call.</summary>
    public static IReadOnlyList<Arrival> Arrivals(int count, int days, Random random) =>
    [
        .. Enumerable.Range(1, count).Select(number =>
        {
            var from = Start.AddDays(random.Next(days - 1));
            var until = from.AddHours(-3).AddDays(1 + random.Next(Math.Min(7, days - 1)));
            return new Arrival(Boat($"Boat{number}", random), from, until < Start.AddDays(days) ? until : Start.AddDays(days).AddHours(-3), null, []);
        }).OrderBy(arrival => arrival.From),
    ];

    public static Boat Boat(string name, Random random)
    {
        var feet = random.Next(26, 46);
        IReadOnlyList<Cord> cords = feet > 38 ? random.Next(2) == 0 ? [Large] : [Small, Small] : [Small];
        return new(name, feet * 0.3048, feet * 0.3048 / 3, 1 + random.NextDouble() * 0.6, cords, feet > 38 ? 3 : feet > 30 ? 2 : 1);
    }

    /// <summary>Somebody in each of some slips, for as long as the plan.</summary>
    public static IReadOnlyList<Stay> Present(SiteDefinition site, double share, Random random) =>
    [
        .. site.Slips.Keys.Where(_ => random.NextDouble() < share).Select(slip =>
            new Stay(slip, new($"At{slip}", 9, 3, 1, [Small], random.Next(3)), Start.AddDays(random.Next(1, 30)), false)),
    ];

    public static ArrivalList List(SiteDefinition site, int arrivals, int days, double presentShare, Random random) => new(
        Start, Arrivals(arrivals, days, random), Present(site, presentShare, random), Outdoor.Of(34, 24));

    /// <summary>The planner, stopped with the test.</summary>
    public static PlacementAnswer Placed(SiteDefinition site, ArrivalList list, double seconds) =>
        Planner.Place(site, list, new(TimeSpan.FromSeconds(seconds), 2, TimeProvider.System, 1), stop: TestContext.Current.CancellationToken);
}
