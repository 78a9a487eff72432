using System.Text.RegularExpressions;

namespace Farberth.Service.Views;

/// <summary>Names in the order in which people count them: G-2 before G-10.</summary>
static partial class AsCounted
{
    /// <summary>Names are 64 letters long at most; numbers in them hardly ever this long.</summary>
    const int Widest = 20;

    /// <summary>What to sort by, letter by letter.</summary>
    public static string Key(string name) => Digits().Replace(name, run => run.Value.TrimStart('0').PadLeft(Widest, '0'));

    [GeneratedRegex(@"\d+")]
    private static partial Regex Digits();
}
