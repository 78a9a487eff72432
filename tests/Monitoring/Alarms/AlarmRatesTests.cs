using CsCheck;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rates;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>
/// Counted against a plain list. The yardsticks are those of ISA-18.2 as remembered: 1 alarm in 10 minutes is acceptable, more than 10 a flood.
/// </summary>
public class AlarmRatesTests
{
    readonly DockStep quiet = new LongDock().Run(1).Last;

    [Fact]
    public void The_counts_are_those_of_a_plain_list() =>
        Gen.Select(Gen.Int[0, 4000], Gen.Int[0, 13], Gen.Bool).Array[0, 60].Sample(gaps =>
        {
            var (tally, now, all) = (new AlarmTally(), TestDock.Start, new List<(DateTimeOffset At, bool IsForBoth)>());
            foreach (var (seconds, count, isForBoth) in gaps)
            {
                // A look each minute in between, as the ticks do it.
                for (var at = now.AddSeconds(30); at < now.AddSeconds(seconds); at = at.AddSeconds(30))
                    tally.Take(Step(at, 0, true));
                now = now.AddSeconds(seconds);
                tally.Take(Step(now, count, isForBoth));
                all.AddRange(Enumerable.Repeat((now, isForBoth), count));
            }
            if (gaps.Length > 0)
                Compare(tally.Rates, all, now);
        }, iter: 100);

    [Fact]
    public void Three_quarters_of_an_alarm_in_ten_minutes_are_good_and_a_flood_is_not()
    {
        var good = new AlarmTally();
        for (var period = 0; period < 200; period++)
            good.Take(Step(TestDock.Start.AddMinutes(10 * period), period % 4 == 0 ? 0 : 1, true));
        Assert.True(good.Rates.MeetsGuidance);
        Assert.Equal(0.75, good.Rates.Loads[0].PerPeriod);

        for (var period = 200; period < 203; period++)
            good.Take(Step(TestDock.Start.AddMinutes(10 * period), 11, true));
        Assert.Equal(3 / 203.0, good.Rates.Loads[1].FloodShare, 1e-12);
        Assert.False(good.Rates.MeetsGuidance);
    }

    [Fact]
    public void What_stands_for_more_than_a_day_is_stale()
    {
        var dock = new LongDock().Run(60).Volts(120, 107, 12).Run(100);
        var tally = new AlarmTally();
        tally.Take(dock.Last);
        Assert.Equal(0, tally.Rates.Stale);
        tally.Take(dock.Last with { Picture = dock.Last.Picture with { Image = dock.Last.Picture.Image with { Now = dock.Now.AddDays(1) } } });
        Assert.Equal(1, tally.Rates.Stale);
    }

    static void Compare(AlarmRates rates, List<(DateTimeOffset At, bool IsForBoth)> all, DateTimeOffset now)
    {
        var minute = now.UtcTicks / TimeSpan.TicksPerMinute;
        foreach (var load in rates.Loads)
        {
            var mine = all.Where(one => one.IsForBoth || load.For == Audience.Electrician)
                .Select(one => one.At.UtcTicks / TimeSpan.TicksPerMinute).ToList();
            var periods = mine.GroupBy(at => at / 10).Select(period => period.Count()).ToList();
            Assert.Equal(
                (mine.Count, mine.Count(at => minute - at < 10), mine.Count(at => minute - at < 60), mine.Count(at => minute - at < 1440)),
                (load.Raised, load.In10Minutes, load.InHour, load.InDay));
            Assert.Equal(
                (periods.Count(count => count > 10), periods.DefaultIfEmpty(0).Max()),
                (load.FloodPeriods, load.Busiest));
        }
        Assert.Equal(all.Count, rates.Raised);
        Assert.Equal(all.Count, rates.Kinds.Values.Sum());
        Assert.Equal(all.Count, rates.Priorities.Values.Sum());
        Assert.InRange(rates.Top.Count, 0, 10);
    }

    DockStep Step(DateTimeOffset now, int raised, bool isForBoth) => quiet with
    {
        Picture = quiet.Picture with { Image = quiet.Picture.Image with { Now = now } },
        Transitions =
        [
            .. Enumerable.Range(0, raised).Select(i => new AlarmTransition(now, AlarmState.Normal, new(
                $"D.D{i}.undervoltage", AlarmKind.Undervoltage, AlarmState.Unacknowledged, Priority.Low, now, new("D", Pedestal: $"D{i}"),
                isForBoth ? Audience.Everybody : Audience.Electrician, "", []), "")),
        ],
    };
}
