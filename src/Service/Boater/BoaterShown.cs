using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Words;

namespace Farberth.Service.Boater;

/// <summary>All that the boater's page is made from.</summary>
/// <param name="Token">Of its own link.</param>
/// <param name="Past">Null: not to be had now.</param>
/// <param name="Ticked">When the monitoring last went on.</param>
/// <param name="Said">How what was asked on the page has gone.</param>
public sealed record BoaterShown(
    SiteDefinition Site, BoatStay Stay, SlipNow Slip, IReadOnlyList<Episode>? Past, DateTimeOffset? Ticked, string Token,
    Preferences Preferences, Said? Said)
{
    public bool HasMail { get; init; }

    /// <summary>Null: no Web Push.</summary>
    public string? PushKey { get; init; }
}
