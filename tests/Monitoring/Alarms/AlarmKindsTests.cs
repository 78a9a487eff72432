using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Tests.Alarms;

public class AlarmKindsTests
{
    [Fact]
    public void Every_kind_is_found_again_by_its_word() => Assert.All(Enum.GetValues<AlarmKind>(), kind =>
    {
        Assert.True(AlarmKinds.TryParse(kind.Word(), out var found));
        Assert.Equal(kind, found);
    });

    [Fact]
    public void Words_are_those_of_the_wire() => Assert.Equal(
        ["overload", "undervoltage", "overvoltage", "supply-lost", "no-draw", "cable-overload", "transformer-overload",
         "leg-imbalance", "meter-silent", "open-neutral", "stalled-motor", "leakage", "meter-doubtful",
         "resistive-joint", "connector-heating", "sag-forecast"],
        AlarmKinds.Words);

    [Theory, InlineData("Overload"), InlineData("supply lost"), InlineData("")]
    public void Other_words_are_no_kinds(string word) => Assert.False(AlarmKinds.TryParse(word, out _));
}
