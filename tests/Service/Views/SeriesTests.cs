using CsCheck;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.Intake;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Views;

namespace Farberth.Service.Tests.Views;

public sealed class SeriesTests : IDisposable
{
    static readonly DateTimeOffset Midnight = new(2027, 7, 17, 0, 0, 0, TimeSpan.Zero);

    readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("farberth-");
    int files;

    public void Dispose() => folder.Delete(recursive: true);

    static Reading Reading(double second, double volts, double amps, double amps2 = 0) => new(
        Midnight.AddSeconds(second), "P1", null, new(volts, double.NaN, double.NaN), new Dictionary<string, OutletReading>
        {
            ["A"] = new(new(amps, double.NaN, double.NaN), PerLeg.None, null, null, null),
            ["B"] = new(new(amps2, double.NaN, double.NaN), PerLeg.None, null, null, null),
        });

    HistorySeries Read(IEnumerable<Reading> readings, TimeSpan span, int points, string? outlet = "A")
    {
        using var history = History.Open(Path.Combine(folder.FullName, $"{Interlocked.Increment(ref files)}.sqlite"));
        Assert.True(history.Append([.. readings], new LogPosition(1)).IsDurable);
        return new SeriesReader(history).Read("P1", outlet, Midnight, Midnight + span, points);
    }

    static readonly Gen<(double Second, double Amps)[]> SomeReadings =
        Gen.Select(Gen.Int[0, 10_799_000].Select(ms => ms / 1000.0), Gen.Int[0, 500].Select(tenths => tenths / 10.0)).Array[1, 300];

    [Fact]
    public void However_few_points_there_are_no_peak_and_no_dip_is_lost() => SomeReadings.Sample(
        readings =>
        {
            var distinct = readings.DistinctBy(one => one.Second).ToList();
            var series = Read(distinct.Select(one => Reading(one.Second, 230 - one.Amps, one.Amps)), TimeSpan.FromHours(3), 10);
            return series.Points.Count is > 0 and <= 10
                && series.Points.Max(point => point.Amps["L1"].Most) == distinct.Max(one => one.Amps)
                && series.Points.Min(point => point.Amps["L1"].Least) == distinct.Min(one => one.Amps)
                && Math.Abs(series.Points.Min(point => point.Volts["L1"].Least) - (230 - distinct.Max(one => one.Amps))) < 0.006
                && series.Points.All(point => point.Amps["L1"] is var amps && amps.Least <= amps.Mean && amps.Mean <= amps.Most);
        }, iter: 40, threads: 1);

    [Fact]
    public void Few_readings_are_shown_as_they_are()
    {
        var series = Read([Reading(10, 229.5, 3), Reading(20, 229, 4)], TimeSpan.FromHours(1), 100);
        Assert.Equal(("reading", 0.0), (series.Of, series.StepSeconds));
        Assert.Equal([(Midnight.AddSeconds(10), new Spread(3, 3, 3)), (Midnight.AddSeconds(20), new Spread(4, 4, 4))], series.Points.Select(point => (point.At, point.Amps["L1"])));
    }

    [Theory]
    [InlineData(2, "reading")]
    [InlineData(48, "minute")]
    [InlineData(24 * 30, "quarter")]
    public void The_longer_the_while_the_coarser_what_it_is_made_of(int hours, string of)
    {
        var series = Read(Enumerable.Range(0, 200).Select(i => Reading(i * 30, 230, i == 77 ? 31 : 5)), TimeSpan.FromHours(hours), 50);
        Assert.Equal(of, series.Of);
        Assert.InRange(series.Points.Count, 1, 50);
        Assert.Equal(31, series.Points.Max(point => point.Amps["L1"].Most));
    }

    [Fact]
    public void Points_stand_on_whole_steps_so_that_two_charts_agree()
    {
        var series = Read(Enumerable.Range(0, 1000).Select(i => Reading(7 + i * 10, 230, 5)), TimeSpan.FromHours(3), 20);
        Assert.Equal(600, series.StepSeconds);
        Assert.All(series.Points, point => Assert.Equal(0, (point.At - Midnight).Ticks % TimeSpan.FromSeconds(600).Ticks));
    }

    [Fact]
    public void A_pedestal_is_the_sum_of_its_outlets_exactly_from_readings_and_in_bounds_from_minutes()
    {
        // A draws while B does not, and the other way round: together never more than 10 A.
        List<Reading> readings = [Reading(0, 230, 10, 0), Reading(30, 230, 0, 10)];
        var exactly = Read(readings, TimeSpan.FromHours(1), 100, outlet: null);
        Assert.False(exactly.AmpsAreBounds);
        Assert.All(exactly.Points, point => Assert.Equal(new Spread(10, 10, 10), point.Amps["L1"]));

        var bounds = Read(readings, TimeSpan.FromDays(1), 100, outlet: null);
        Assert.True(bounds.AmpsAreBounds);
        Assert.Equal(new Spread(0, 10, 20), Assert.Single(bounds.Points).Amps["L1"]);
    }

    [Fact]
    public void A_while_in_which_nothing_was_heard_has_no_points()
    {
        var series = Read([.. Enumerable.Range(0, 100).Select(i => Reading(i, 230, 5)), .. Enumerable.Range(0, 100).Select(i => Reading(7200 + i, 230, 5))], TimeSpan.FromHours(3), 20);
        Assert.Equal(2, series.Points.Count);
    }
}
