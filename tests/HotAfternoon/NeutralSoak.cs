using static System.FormattableString;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// Open neutrals at full size: two days, 24 pedestals at 5 s, a tick each second. Takes about a minute a recording on a free core:
/// dotnet build tests/HotAfternoon -c Release, then in the folder of the built tests
/// ./Farberth.HotAfternoon.Tests -explicit only -showLiveOutput -class Farberth.HotAfternoon.Tests.NeutralSoak
/// What was measured is in docs/algorithms/open-neutral.md.
/// </summary>
public class NeutralSoak(ITestOutputHelper output)
{
    // The rules were made with the recordings from 5001 and from 5101 on in sight, and with those from 6001 on; the others came after them.
    [Theory(Explicit = true)]
    [InlineData(5001)]
    [InlineData(5101)]
    [InlineData(5201)]
    public void Forty_recordings_of_two_days_without_a_fault_raise_none(int firstSeed) => Assert.Empty(
        from seed in Enumerable.Range(firstSeed, 40)
        let run = NeutralTwoDays.Healthy(seed)
        let said = Say(Invariant($"{seed}: {run.Raised.Count} raised, legs up to {run.LargestDifferenceVolts:0.0} V apart"))
        from raised in run.Raised
        select Say(Invariant($"{seed} {raised.At:O}: {raised.Alarm.Message}")));

    [Theory(Explicit = true)]
    [InlineData(6001)]
    [InlineData(6101)]
    public void An_open_neutral_is_raised_at_the_first_reading_and_half_an_ohm_within_two(int firstSeed) => Assert.Empty(
        from seed in Enumerable.Range(firstSeed, 20)
        let isOpen = seed % 4 is 0 or 3
        let run = NeutralTwoDays.Failing(seed, isOpen ? NeutralFaultPlan.OpenOhms : 0.5)
        let said = Say(Invariant($"{seed} {run.Fault!.Ohms} ohm at {run.Fault.Cable} from {run.Fault.From:d HH:mm:ss}: ") +
            Invariant($"moved {run.MovedAt?.UtcDateTime:d HH:mm:ss} UTC, {run.ReadingsUntilRaised} readings until raised; ") +
            string.Join(", ", run.Raised.Select(raised => Invariant($"{raised.At.UtcDateTime:d HH:mm:ss} {raised.Alarm.Evidence["cable"]![1]}"))))
        where run.MovedAt != null && !(run.ReadingsUntilRaised <= (isOpen ? 1 : 2) && run.IsLocated)
        select said);

    string Say(string line)
    {
        output.WriteLine(line);
        return line;
    }
}
