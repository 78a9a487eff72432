using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Farberth.Service.Access;

/// <summary>A boat lies in a slip, from a moment on, up to but not at another.</summary>
/// <param name="Id">Counts up from 1; 0 before it is written.</param>
/// <param name="Boat">Its name, as the dock office writes it.</param>
/// <param name="To">Planned; brought forward when the boat leaves earlier.</param>
/// <param name="RevokedAt">From then on its link opens nothing, though the boat may lie there still.</param>
public sealed record BoatStay(long Id, string Slip, string Boat, DateTimeOffset From, DateTimeOffset To, DateTimeOffset? RevokedAt = null)
{
    public const int LongestBoatName = 80;

    public bool Covers(DateTimeOffset moment) => From <= moment && moment < To;

    /// <summary>Its link opens the page.</summary>
    public bool IsOpen(DateTimeOffset moment) => RevokedAt == null && Covers(moment);

    /// <summary>SQLite compares no moments with an offset: they are kept as milliseconds since 1970, UTC.</summary>
    internal static void Describe(EntityTypeBuilder<BoatStay> stay)
    {
        stay.Property(one => one.From).HasConversion(at => at.ToUnixTimeMilliseconds(), ms => DateTimeOffset.FromUnixTimeMilliseconds(ms));
        stay.Property(one => one.To).HasConversion(at => at.ToUnixTimeMilliseconds(), ms => DateTimeOffset.FromUnixTimeMilliseconds(ms));
        stay.Property(one => one.RevokedAt).HasConversion(at => at!.Value.ToUnixTimeMilliseconds(), ms => DateTimeOffset.FromUnixTimeMilliseconds(ms));
        stay.Property(one => one.Boat).HasMaxLength(LongestBoatName);
        stay.HasIndex(one => new { one.Slip, one.From });
    }
}
