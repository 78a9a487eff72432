using System.Globalization;
using Farberth.Service.Views;
using static System.FormattableString;

namespace Farberth.Service.Office.Live;

/// <summary>Figures as somebody likes to read them. Volts and amps are volts and amps everywhere.</summary>
public sealed class Figures(Preferences preferences, Showing showing)
{
    const double MetresPerFoot = 0.3048;

    public string Clock(DateTimeOffset at) => showing.Local(at).ToString(preferences.Is12Hours ? "h:mm tt" : "HH:mm", CultureInfo.InvariantCulture);

    public string ClockWithSeconds(DateTimeOffset at) => showing.Local(at).ToString(preferences.Is12Hours ? "h:mm:ss tt" : "HH:mm:ss", CultureInfo.InvariantCulture);

    public string Day(DateTimeOffset at) => showing.Local(at).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public string DayAndClock(DateTimeOffset at) => $"{Day(at)} {Clock(at)}";

    public string Temperature(double celsius) => preferences.IsFahrenheit ? Invariant($"{celsius * 9 / 5 + 32:0} °F") : Invariant($"{celsius:0} °C");

    public string Length(double metres) => preferences.IsFeet ? Invariant($"{metres / MetresPerFoot:0} ft") : Invariant($"{metres:0} m");

    public string LengthUnit => preferences.IsFeet ? "ft" : "m";

    /// <summary>As somebody types it, to a tenth.</summary>
    public double LengthOf(double metres) => preferences.IsFeet ? Math.Round(metres / MetresPerFoot, 1) : metres;

    public double MetresOf(double typed) => preferences.IsFeet ? typed * MetresPerFoot : typed;

    public static string Volts(double volts) => Invariant($"{volts:0.0} V");

    public static string Amps(double amps) => Invariant($"{amps:0.#} A");

    public static string Share(double share) => Invariant($"{100 * share:0} %");

    public static string Age(TimeSpan age) => age.TotalSeconds < 90 ? Invariant($"{age.TotalSeconds:0} s")
        : age.TotalMinutes < 90 ? Invariant($"{age.TotalMinutes:0} min") : Invariant($"{age.TotalHours:0} h");
}
