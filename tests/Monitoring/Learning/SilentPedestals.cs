using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Tests.Learning;

/// <summary>The currents of a dock of which one pedestal is silent.</summary>
public class SilentPedestals
{
    [Fact]
    public void Currents_add_up_towards_the_source_and_a_silent_pedestal_draws_like_the_others()
    {
        // L1: B1 has 30 A rated, B2 30 + 50, B3 30. Those heard draw 15 A per 110 A; B3 so about 4.1 A.
        var dock = new TestDock().Say("B1", 120, 120, ("A", Leg.L1, 5)).Say("B2", 118, 120, ("A", Leg.L1, 10));
        dock.Says.Remove("B3");
        var tree = new CableTreeMinute(TestDock.Site, dock.Definition);
        for (var second = 0; second < 60; second++)
        {
            dock.Run(TimeSpan.FromSeconds(1));
            for (var cable = 0; cable < tree.Cables.Count; cable++)
                tree.Pedestals[cable]!.Tick(dock.Last.Picture.Image.Pedestals[tree.Cables[cable].To]);
        }
        tree.Gather();
        double Amps(int cable) => tree.Amps(cable, 0).Magnitude;
        Assert.Equal([true, true, false], [tree.IsLive(0), tree.IsLive(1), tree.IsLive(2)]);
        Assert.Equal(15.0 / 110 * 30, Amps(2), 1e-6);
        Assert.Equal([0, 7.5], [tree.DrawnSd(1, 0), tree.DrawnSd(2, 0)]);
        Assert.Equal(10, tree.Drawn(1, 0).Magnitude, 1e-6);
        Assert.Equal(Amps(2) + 10, Amps(1), 1e-6);
        Assert.Equal(Amps(1) + 5, Amps(0), 1e-6);
        Assert.Equal(7.5, Math.Sqrt(tree.AmpsVariance(0, 0)), 1e-9); // a quarter of 30 A
    }
}
