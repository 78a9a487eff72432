using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>A voltmeter that drifts by 1.5 % within two hours on a dock of 24 pedestals, two of them dead, through a hot day.</summary>
public class GainsLearned(ITestOutputHelper output)
{
    static readonly MeterKey Drifting = new("H7", Leg.L1);

    [Fact]
    public void A_meter_that_drifts_is_learned_and_its_neighbours_are_not_pulled()
    {
        var (drifted, sound) = (new DockMonitor(TwoDays.Site, TwoDays.Site.Docks["H"]), new DockMonitor(TwoDays.Site, TwoDays.Site.Docks["H"]));
        var (shown, pulled, alarms, last) = (new Dictionary<MeterKey, List<double>>(), new List<double>(), new List<string>(), (DockStep)null!);
        foreach (var (time, truth, read) in Readings(seed: 7))
        {
            foreach (var (inbound, at) in read)
            {
                drifted.Take(inbound is Reading reading && reading.Pedestal == Drifting.Pedestal ? Drift(reading, truth.Local) : inbound, at);
                sound.Take(inbound, at);
            }
            if ((time.Second % 10) != 0)
                continue;
            (last, var without) = (drifted.Step(time), sound.Step(time));
            alarms.AddRange(last.Transitions.Where(one => one.Alarm.Kind == AlarmKind.MeterDoubtful).Select(one => $"{truth.Local:HH:mm} {one.Alarm.Message}"));
            if (truth.Local.Hour < 18)
                continue;
            foreach (var name in new[] { "H6", "H7", "H8" })
                pulled.Add(last.Picture.Estimate.Pedestals[name].Volts[Leg.L1] - without.Picture.Estimate.Pedestals[name].Volts[Leg.L1]);
            foreach (var meter in last.Picture.Estimate.Meters)
                (shown.TryGetValue(new(meter.Pedestal, meter.Leg), out var shares) ? shares : shown[new(meter.Pedestal, meter.Leg)] = [])
                    .Add(meter.ReadVolts / truth.Docks["H"].Volts(meter.Pedestal, meter.Leg) - 1);
        }
        var gains = last.Picture.Learned.Gains;
        var held = gains.Average(one => Math.Abs(one.Value.Share - shown[one.Key].Average()) < 1.96 * one.Value.Sd ? 1.0 : 0);
        output.WriteLine($"shows {shown[Drifting].Average():P3}, learned {gains[Drifting].Share:P3} ± {gains[Drifting].Sd:P3}; of {gains.Count} meters 95 % intervals hold {held:P0}, "
            + $"beyond class {string.Join(", ", gains.Where(one => one.Value.IsBeyondClass).Select(one => $"{one.Key.Pedestal} {one.Key.Leg} {one.Value.Share:P2} of {shown[one.Key].Average():P2}"))}; neighbours pulled by {pulled.Average():F3} V\n{string.Join('\n', alarms)}");
        Assert.InRange(gains[Drifting].Share, shown[Drifting].Average() - 2 * gains[Drifting].Sd, shown[Drifting].Average() + 2 * gains[Drifting].Sd);
        Assert.InRange(gains[Drifting].Sd, 0.0005, 0.003);
        Assert.InRange(held, 0.9, 1);
        Assert.InRange(pulled.Average(), -0.05, 0.05);
        Assert.DoesNotContain(last.Picture.Estimate.Doubtful, one => one.Bus == Drifting.Pedestal); // learned: it fits again
        Assert.Contains(alarms, one => one.Contains("pedestal H7 shows", StringComparison.Ordinal) || one.Contains("Pedestal H7 reads", StringComparison.Ordinal));
    }

    static Reading Drift(Reading reading, DateTime local)
    {
        var gain = 1 + 0.015 * Math.Clamp((local.TimeOfDay.TotalHours - 12) / 2, 0, 1);
        return reading with { Volts = reading.Volts.With(Drifting.Leg, gain * reading.Volts[Drifting.Leg]) };
    }

    static IEnumerable<(DateTimeOffset Time, Truth Truth, List<(Inbound Inbound, DateTimeOffset At)> Read)> Readings(long seed)
    {
        var whole = TwoDays.Scenario(seed, ["H3", "F4"]);
        var scenario = whole with { Start = whole.Start.AddHours(11), End = whole.Start.AddHours(19), Meters = whole.Meters with { GainError = 0.0029 } };
        var decoder = new InboundDecoder(TwoDays.Site);
        foreach (var step in new Simulation(scenario, TwoDays.Site).Steps())
            yield return (step.Truth.Time + scenario.Step, step.Truth,
            [
                .. from message in step.Arrived
                   let inbound = decoder.Decode(message.Message, message.At).Value
                   where inbound != null
                   select (inbound, message.At),
            ]);
    }
}
