namespace Farberth.Grid.Conductors;

/// <summary>Every conductor that has a resistance, a reactance and an ampacity.</summary>
static class Catalogue
{
    internal static readonly IReadOnlyList<Conductor> All =
        [.. Nec(Metal.Copper), .. Iec(Metal.Copper), .. Nec(Metal.Aluminium), .. Iec(Metal.Aluminium)];

    internal static readonly IReadOnlyDictionary<string, Conductor> ByDesignation =
        All.ToDictionary(conductor => conductor.Designation);

    static IEnumerable<Conductor> Nec(Metal metal) =>
        from dc in NecTable8.Rows
        let ac = NecTable9.For(dc.Size)
        let ampacity = NecTable310.For(dc.Size)
        where ac.Resistance(metal) is not null && ampacity.Of(metal) is not null
        select new NecConductor(dc, ac, ampacity, metal);

    static IEnumerable<Conductor> Iec(Metal metal) =>
        from dc in IecTable60228.Rows
        where dc.OhmsPerKilometre(metal) is not null
        select new IecConductor(dc, NecTable310.ByArea(dc.SquareMillimetres, metal), metal);
}
