using System.Numerics;
using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Learning;

public class OutletCurrentsTests
{
    static readonly OutletDefinition FourWire = new("B", 50, [Leg.L1, Leg.L2], HasNeutral: true, null);
    static readonly OutletDefinition ThreeWire = FourWire with { HasNeutral = false };

    /// <summary>Real power over volt-amperes is the power factor; lagging amps stand behind the volts.</summary>
    [Fact]
    public void Watts_turn_the_amps_back_by_their_angle()
    {
        var amps = Of(FourWire, new(new PerLeg(20, 10, double.NaN), new PerLeg(1920, 1200, double.NaN), null, null, true));
        Assert.Equal(20 * 0.8, amps[0].Real, 1e-9);
        Assert.Equal(-20 * 0.6, amps[0].Imaginary, 1e-9);
        Assert.Equal(-10, amps[1].Real, 1e-9); // L2 stands at 180°
    }

    [Fact]
    public void Equal_amps_on_both_legs_leave_the_neutral_alone() => Assert.Equal(
        0, Sum(Of(FourWire, new(new PerLeg(20, 20, double.NaN), PerLeg.None, null, null, true))).Magnitude, 1e-9);

    [Fact]
    public void A_load_between_legs_goes_out_on_one_and_back_on_the_other()
    {
        var amps = Of(ThreeWire, new(new PerLeg(20, 20, double.NaN), PerLeg.None, null, null, true));
        Assert.Equal(20, amps[0].Magnitude, 1e-9);
        Assert.Equal(0, Sum(amps).Magnitude, 1e-9);
    }

    [Fact]
    public void An_open_outlet_carries_nothing() => Assert.All(
        Of(FourWire, new(new PerLeg(20, 20, double.NaN), PerLeg.None, null, null, Closed: false)),
        amps => Assert.Equal(Complex.Zero, amps));

    static Complex[] Of(OutletDefinition outlet, OutletReading reading)
    {
        var outlets = new Dictionary<string, OutletDefinition> { ["B"] = outlet };
        var latest = new Reading(TestDock.Start, "B2", null, new PerLeg(120, 120, double.NaN), new Dictionary<string, OutletReading> { ["B"] = reading });
        var empty = TestDock.Reading("B2", 120, 120);
        var image = new TestDock().Run(TimeSpan.FromSeconds(1)).Last.Picture.Image.Pedestals["B2"] with
        {
            Definition = new("B2", outlets),
            Latest = latest with { Time = empty.Time },
            Outlets = new(new Dictionary<string, OutletImage> { ["B"] = new(outlet, reading, [], null, null) }),
        };
        var amps = new Complex[3];
        OutletCurrents.Of(TestDock.Site, image, amps);
        return amps;
    }

    static Complex Sum(Complex[] amps) => amps.Aggregate(Complex.Zero, (sum, leg) => sum + leg);
}
