using System.CommandLine;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.Intake;

namespace Farberth.Cli.Commands;

/// <summary>How long and how much the data folder keeps.</summary>
sealed class KeepingArguments
{
    const int MostDays = 36_500, MostGibibytes = 1 << 20;

    readonly Option<int> readings = Days("--keep-readings", "every reading", HistoryOptions.Usual.Readings);
    readonly Option<int> minutes = Days("--keep-minutes", "what the minutes come to", HistoryOptions.Usual.Minutes);
    readonly Option<int> quarters = Days("--keep-quarters", "what the quarters of an hour come to", HistoryOptions.Usual.Quarters);

    readonly Option<int> history = Gibibytes(
        "--history-gib", "history.sqlite may take; beyond it the oldest readings go first", HistoryOptions.Usual.MostBytes);

    readonly Option<int> intake = Gibibytes(
        "--intake-gib", "the log of what arrived may take; beyond it the oldest go, even where the history or InfluxDB has not had them", IntakeLogOptions.Usual.MostBytes);

    public void AddTo(Command command)
    {
        foreach (var option in new Option[] { readings, minutes, quarters, history, intake })
            command.Add(option);
    }

    public HistoryOptions History(ParseResult parsed) => new(
        TimeSpan.FromDays(parsed.GetValue(readings)), TimeSpan.FromDays(parsed.GetValue(minutes)), TimeSpan.FromDays(parsed.GetValue(quarters)),
        (long)parsed.GetValue(history) << 30);

    public IntakeLogOptions Intake(ParseResult parsed) => IntakeLogOptions.Usual with { MostBytes = (long)parsed.GetValue(intake) << 30 };

    static Option<int> Days(string name, string what, TimeSpan usual) => Whole(name, $"Days for which {what} is kept.", "DAYS", (int)usual.TotalDays, MostDays);

    static Option<int> Gibibytes(string name, string what, long usual) => Whole(name, $"GiB that {what}.", "GIB", (int)(usual >> 30), MostGibibytes);

    static Option<int> Whole(string name, string description, string unit, int usual, int most) => new(name)
    {
        Description = description,
        HelpName = unit,
        DefaultValueFactory = _ => usual,
        CustomParser = result => Arguments.Whole(result, 1, most),
    };
}
