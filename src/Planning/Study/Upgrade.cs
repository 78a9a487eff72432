using Farberth.Grid.Conductors;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Planning.Study;

/// <summary>A change to a dock that somebody could build.</summary>
/// <param name="What">In plain words.</param>
public sealed record Upgrade(string What, DockDefinition After)
{
    /// <summary>
    /// Customary ratings, kVA (from memory; ANSI single-phase and three-phase rows, IEC's R10 steps). The nameplate's per-unit impedance is taken to
    /// stay; a maker's data go before it.
    /// </summary>
    static readonly double[] SinglePhaseKva = [25, 37.5, 50, 75, 100, 167, 250, 333, 500];
    static readonly double[] ThreePhaseKva = [30, 45, 75, 112.5, 150, 225, 300, 500, 750, 1000];
    static readonly double[] IecKva = [50, 63, 100, 160, 250, 315, 400, 500, 630, 800, 1000];

    /// <summary>One tap up.</summary>
    const double TapShare = 0.025;

    /// <summary>Every change that is looked at: cables, neutrals, transformer, a second feed.</summary>
    public static IEnumerable<Upgrade> Of(SiteDefinition site, DockDefinition dock) =>
    [
        .. dock.Cables.SelectMany(cable => Larger(dock, cable)),
        .. dock.Cables.Where(cable => cable.Neutral.SquareMillimetres < cable.Conductor.SquareMillimetres).Select(cable => FullNeutral(dock, cable)),
        .. AllNeutrals(dock),
        .. Tap(site, dock),
        .. LargerTransformer(site, dock),
        .. SecondFeeds(dock),
    ];

    /// <summary>The next size of the same metal and standard; of the largest, another set.</summary>
    public static IEnumerable<Upgrade> Larger(DockDefinition dock, CableDefinition cable)
    {
        var next = Conductor.All.FirstOrDefault(other => other.Metal == cable.Conductor.Metal && other.GetType() == cable.Conductor.GetType()
            && other.SquareMillimetres > cable.Conductor.SquareMillimetres);
        if (next is null)
            return [new($"another set of {cable.Conductor} from {cable.From} to {cable.To}", With(dock, cable, cable with { Sets = cable.Sets + 1 }))];
        var isFull = cable.Neutral == cable.Conductor;
        var after = cable with { Conductor = next, Neutral = isFull ? next : cable.Neutral, AmpacityAmps = null };
        return [new($"{next} in place of {cable.Conductor} from {cable.From} to {cable.To}", With(dock, cable, after))];
    }

    static Upgrade FullNeutral(DockDefinition dock, CableDefinition cable) => new(
        $"neutral {cable.Conductor} in place of {cable.Neutral} from {cable.From} to {cable.To}",
        With(dock, cable, cable with { Neutral = cable.Conductor }));

    static IEnumerable<Upgrade> AllNeutrals(DockDefinition dock)
    {
        var reduced = dock.Cables.Count(cable => cable.Neutral.SquareMillimetres < cable.Conductor.SquareMillimetres);
        if (reduced > 1)
            yield return new($"all {reduced} reduced neutrals made full", dock with
            {
                Cables = [.. dock.Cables.Select(cable => cable.Neutral.SquareMillimetres < cable.Conductor.SquareMillimetres
                    ? cable with { Neutral = cable.Conductor } : cable)],
            });
    }

    /// <summary>Only where the volts at no load stay inside band A: at night nobody loads the dock.</summary>
    static IEnumerable<Upgrade> Tap(SiteDefinition site, DockDefinition dock)
    {
        var volts = dock.Source.NoLoadVolts * (1 + TapShare);
        if (dock.Source.Transformer is not null && volts <= site.Limits.Volts.HighA)
            yield return new(Invariant($"transformer tap 2.5 % up: {volts:0.0} V at no load"), dock with { Source = dock.Source with { NoLoadVolts = volts } });
    }

    static IEnumerable<Upgrade> LargerTransformer(SiteDefinition site, DockDefinition dock)
    {
        var sizes = site.Supply.Hertz < 55 ? IecKva : site.Supply.IsThreePhase ? ThreePhaseKva : SinglePhaseKva;
        if (dock.Source.Transformer is { } transformer && Array.Find(sizes, kva => kva * 1000 > transformer.RatingVoltAmperes) is > 0 and var next)
            yield return new(
                Invariant($"transformer of {next:0.#} kVA in place of {transformer.RatingVoltAmperes / 1000:0.#} kVA, same impedance in percent"),
                dock with { Source = dock.Source with { Transformer = transformer with { RatingVoltAmperes = next * 1000 } } });
    }

    /// <summary>The outer part of a dock on a feed of its own: the cable into a point is taken off and a new one laid from the source.</summary>
    static IEnumerable<Upgrade> SecondFeeds(DockDefinition dock)
    {
        var tree = new DockTree(dock);
        foreach (var cable in dock.Cables.Where(cable => cable.From != DockDefinition.SourcePoint && tree.Pedestals[cable.To].Count > 1))
        {
            var way = dock.Cables.Where(other => tree.IsBeyond(other.To, cable.To)).ToList();
            var thickest = way.MaxBy(other => other.Sets * other.Conductor.SquareMillimetres)!;
            var feed = thickest with { From = DockDefinition.SourcePoint, To = cable.To, LengthMetres = way.Sum(other => other.LengthMetres) };
            yield return new(
                Invariant($"second feed to {cable.To}: {feed.LengthMetres:0} m of {(feed.Sets > 1 ? $"{feed.Sets} × " : "")}{feed.Conductor}"),
                With(dock, cable, feed));
        }
    }

    /// <summary>One cable exchanged.</summary>
    public static DockDefinition With(DockDefinition dock, CableDefinition before, CableDefinition after) =>
        dock with { Cables = [.. dock.Cables.Select(cable => cable == before ? after : cable)] };
}
