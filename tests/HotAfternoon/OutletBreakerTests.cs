using CsCheck;

namespace Farberth.HotAfternoon.Tests;

public class OutletBreakerTests
{
    // UL 489: no trip at 100 % of the rating, however long.
    [Fact]
    public void An_ul_breaker_holds_its_rating_for_ever() => Sample(BreakerFamily.Ul489, (rating, random) =>
        Assert.True(SecondsToTrip(BreakerFamily.Ul489, rating, 1.00, random, limit: 10 * 3600) is null));

    // UL 489 at 135 % (1 h up to 50 A) and 200 % (2, 4, 6 min up to 30, 50, 100 A): from memory, not confirmed. This holds
    // the model to what its own comment says.
    [Fact]
    public void An_ul_breaker_trips_by_the_latest_time_of_its_band() => Sample(BreakerFamily.Ul489, (rating, random) =>
    {
        var latestAt200 = rating <= 30 ? 120 : rating <= 50 ? 240 : 360;
        Assert.NotNull(SecondsToTrip(BreakerFamily.Ul489, rating, 1.35, random, rating <= 50 ? 3600 : 7200));
        Assert.NotNull(SecondsToTrip(BreakerFamily.Ul489, rating, 2.00, random, latestAt200));
    });

    // IEC 60898-1, table 7 (makers' copies): 1.13 does not trip within 1 h, 2 h above 63 A.
    [Fact]
    public void An_iec_breaker_holds_113_percent() => Sample(BreakerFamily.Iec60898, (rating, random) =>
        Assert.True(SecondsToTrip(BreakerFamily.Iec60898, rating, 1.13, random, limit: 2 * 3600) is null));

    // Same table: 1.45 trips within 1 h up to 63 A; 2.55 within 1 to 60 s up to 32 A, 1 to 120 s above.
    [Fact]
    public void An_iec_breaker_trips_by_the_latest_time_of_its_band() => Sample(BreakerFamily.Iec60898, (rating, random) =>
    {
        Assert.NotNull(SecondsToTrip(BreakerFamily.Iec60898, rating, 1.45, random, rating <= 63 ? 3600 : 7200));
        var at255 = SecondsToTrip(BreakerFamily.Iec60898, rating, 2.55, random, rating <= 32 ? 60 : 120);
        Assert.InRange(at255 ?? 0, 1, 120);
    });

    [Fact]
    public void More_amps_trip_sooner()
    {
        var before = int.MaxValue;
        for (var share = 1.3; share < 4; share += 0.1)
        {
            var seconds = SecondsToTrip(new OutletBreaker(BreakerFamily.Ul489, 30, 1.1), 30 * share, 7200)!.Value;
            Assert.True(seconds <= before);
            before = seconds;
        }
    }

    [Fact]
    public void Ten_times_the_rating_opens_it_at_once() =>
        Assert.Equal(1, SecondsToTrip(new OutletBreaker(BreakerFamily.Iec60898, 16, 1.2), 160, 10));

    [Fact]
    public void It_stays_open_until_reset_and_too_hot_does_not_latch()
    {
        var breaker = new OutletBreaker(BreakerFamily.Ul489, 30, 1.1);
        SecondsToTrip(breaker, 45, 7200);
        breaker.Step(1, 45);
        breaker.Reset();
        Assert.True(breaker.Closed);
        SecondsToTrip(breaker, 299, 60);
        breaker.Reset();
        Assert.False(breaker.Closed);
        for (var second = 0; second < 1800; second++)
            breaker.Step(1, 0);
        Assert.False(breaker.Closed);
        breaker.Reset();
        Assert.True(breaker.Closed);
    }

    static readonly Gen<double>[] Ratings = [.. new[] { 16.0, 30, 32, 50, 63, 100 }.Select(Gen.Const)];

    static void Sample(BreakerFamily family, Action<double, NamedRandom> check) =>
        Gen.Select(Gen.OneOf(Ratings), Gen.Long)
            .Sample((rating, seed) => check(rating, new NamedRandom(seed, $"{family}")), iter: 200);

    static int? SecondsToTrip(BreakerFamily family, double rating, double share, NamedRandom random, int limit) =>
        SecondsToTrip(new OutletBreaker(family, rating, OutletBreaker.DrawHolds(family, random)), rating * share, limit);

    static int? SecondsToTrip(OutletBreaker breaker, double amps, int limit)
    {
        for (var second = 1; second <= limit; second++)
        {
            breaker.Step(1, amps);
            if (!breaker.Closed)
                return second;
        }
        return null;
    }
}
