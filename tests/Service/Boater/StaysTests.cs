namespace Farberth.Service.Tests.Boater;

public sealed class StaysTests : IDisposable
{
    readonly DockOffice office = new();

    public void Dispose() => office.Dispose();

    [Theory]
    [InlineData(2, 4)] // within
    [InlineData(-5, 0.5)] // over its beginning
    [InlineData(5, 9)] // over its end
    [InlineData(-5, 20)] // around it
    public async Task Two_boats_do_not_lie_in_one_slip_at_a_time(double fromDay, double toDay)
    {
        await office.Stay();

        var other = await office.Add(boat: "Tern", fromDay: fromDay, toDay: toDay);

        Assert.Null(other.Stay);
        Assert.True(other.IsTaken);
        Assert.StartsWith("Osprey lies in slip B1 from ", $"{other.Refused}");
    }

    [Fact]
    public async Task The_next_boat_comes_when_the_one_before_has_left_and_a_neighbour_at_any_time()
    {
        await office.Stay();

        Assert.NotNull((await office.Add(boat: "Tern", fromDay: 6, toDay: 9)).Stay);
        Assert.NotNull((await office.Add(slip: "B2", boat: "Gull")).Stay);
        Assert.Equal(["Tern", "Osprey"], (await office.Stays.List("B1")).Select(stay => stay.Boat));
    }

    [Fact]
    public async Task Who_leaves_early_makes_room_and_stays_in_the_list_of_what_was()
    {
        var stay = await office.Stay();
        office.Clock.Advance(TimeSpan.FromDays(1));

        Assert.Equal(DockOffice.Noon.AddDays(1), (await office.Stays.End(stay.Id))!.To);
        Assert.NotNull((await office.Add(boat: "Tern", fromDay: 1, toDay: 3)).Stay);
        Assert.Equal(["Tern"], (await office.Stays.List()).Select(one => one.Boat));
        Assert.Equal(["Tern", "Osprey"], (await office.Stays.List(past: true)).Select(one => one.Boat));
    }

    [Theory]
    [InlineData("B9", "Osprey", -1, 6, "There is no slip B9")]
    [InlineData("B1", " ", -1, 6, "The boat's name has")]
    [InlineData("B1", "Os\nprey", -1, 6, "one line of plain text")]
    [InlineData("B1", "Osprey", 6, 6, "ends before it begins")]
    [InlineData("B1", "Osprey", -1, 800, "at most 732 days")]
    [InlineData("B1", "Osprey", -3, -1, "over already")]
    public async Task What_is_no_stay_is_refused_in_words(string slip, string boat, double fromDay, double toDay, string why)
    {
        var outcome = await office.Add(slip, boat, fromDay, toDay);

        Assert.Null(outcome.Stay);
        Assert.Contains(why, $"{outcome.Refused}");
    }

    [Fact]
    public async Task Nothing_is_ended_or_revoked_that_is_not_there()
    {
        Assert.Null(await office.Stays.End(7));
        Assert.Null(await office.Stays.Revoke(7));
    }
}
