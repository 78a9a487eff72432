using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;

namespace Farberth.Service.Views;

/// <summary>Where the next boat could lie: for the harbormaster, who knows the rest.</summary>
public static class FreeSlips
{
    /// <summary>A boat that drew within this time is taken to be there still, unless it is known to have left.</summary>
    static readonly TimeSpan RecentlyDrew = TimeSpan.FromHours(12);

    /// <summary>
    /// Outlets of slips where no boat is known or likely to be on any outlet, none of them open, and with the volts of each
    /// inside band A; the most room first.
    /// </summary>
    public static IReadOnlyList<OutletRisk> Of(DockStep step) =>
    [
        .. step.Picture.Outlets
            .Where(risk => risk.Outlet.Slip != null)
            .GroupBy(risk => risk.Outlet.Slip)
            .Where(slip => slip.All(risk => IsFree(step, risk)))
            .SelectMany(slip => slip)
            .OrderByDescending(risk => risk.HeadroomAmps).ThenByDescending(risk => risk.Volts),
    ];

    static bool IsFree(DockStep step, OutletRisk risk)
    {
        var (image, limits) = (step.Picture.Image.Pedestals[risk.Pedestal], step.Picture.Site.Limits);
        var outlet = image.Outlets[risk.Outlet.Name];
        var isEmpty = outlet.BoatPresent is { } present ? !present : !(step.Now - outlet.LastDrew <= RecentlyDrew);
        return isEmpty && image.IsFresh && outlet.Latest?.Closed != false && risk.Amps < limits.DrawingAmps
            && risk.Volts >= limits.Volts.LowA && risk.Volts <= limits.Volts.HighA;
    }
}
