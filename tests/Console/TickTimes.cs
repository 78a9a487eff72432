using System.Globalization;
using System.Text.RegularExpressions;

namespace Farberth.Console.Tests;

/// <summary>The service's own histogram of how long its ticks took.</summary>
/// <param name="Counts">By upper bound in seconds, each with all below it.</param>
public sealed partial record TickTimes(IReadOnlyList<(double Seconds, double Count)> Counts, double Sum)
{
    /// <param name="metrics">In Prometheus' exposition format.</param>
    public static TickTimes Of(string metrics) => new(
        [.. Line().Matches(metrics).Where(line => line.Groups["which"].Value == "bucket").Select(line => (Number(line.Groups["bound"].Value), Number(line.Groups["value"].Value)))],
        Line().Matches(metrics).Where(line => line.Groups["which"].Value == "sum").Sum(line => Number(line.Groups["value"].Value)));

    public string Since(TickTimes before)
    {
        List<(double Seconds, double Count)> grown = [.. Counts.Zip(before.Counts, (now, then) => (now.Seconds, now.Count - then.Count))];
        var all = grown.Count == 0 ? 0 : grown[^1].Count;
        return string.Create(CultureInfo.InvariantCulture, $"mean {1000 * (Sum - before.Sum) / all:0.00} ms, median below {1000 * Bound(0.5):0.0} ms, 99 % below {1000 * Bound(0.99):0.0} ms of {all:0}");

        double Bound(double share) => grown.First(bucket => bucket.Count >= share * all).Seconds;
    }

    static double Number(string text) => text == "+Inf" ? double.PositiveInfinity : double.Parse(text, CultureInfo.InvariantCulture);

    [GeneratedRegex("""^farberth_tick_duration_seconds_(?<which>bucket|sum)\S*?(?:le="(?<bound>[^"]+)"\})? (?<value>[\d.eE+-]+)""", RegexOptions.Multiline)]
    private static partial Regex Line();
}
