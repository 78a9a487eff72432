namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// Open neutrals at full size: two days, 24 pedestals at 5 s, a tick each second. Takes one to two minutes a recording on a free core:
/// dotnet build tests/HotAfternoon -c Release, then in the folder of the built tests
/// ./Farberth.HotAfternoon.Tests -explicit only -class Farberth.HotAfternoon.Tests.NeutralSoak
/// What was measured is in docs/algorithms/open-neutral.md.
/// </summary>
public class NeutralSoak
{
    [Fact(Explicit = true)]
    public void Forty_recordings_of_two_days_without_a_fault_raise_none() => Assert.Empty(
        from seed in Enumerable.Range(5001, 40)
        from raised in NeutralTwoDays.Healthy(seed).Raised
        select $"{seed} {raised.At:O}: {raised.Alarm.Message}");

    [Fact(Explicit = true)]
    public void An_open_neutral_is_raised_at_the_first_reading_and_half_an_ohm_within_two() => Assert.Empty(
        from seed in Enumerable.Range(6001, 20)
        let isOpen = seed % 4 is 0 or 3
        let run = NeutralTwoDays.Failing(seed, isOpen ? NeutralFaultPlan.OpenOhms : 0.5)
        where run.MovedAt != null && !(run.ReadingsUntilRaised <= (isOpen ? 1 : 2) && run.IsLocated)
        select $"{seed} {run.Fault}: {run.MovedAt:O}, {run.ReadingsUntilRaised} readings, " +
            string.Join("; ", run.Raised.Select(raised => $"{raised.At:HH:mm:ss} {raised.Alarm.Evidence["cable"]!.ToJsonString()}")));
}
