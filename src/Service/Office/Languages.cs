namespace Farberth.Service.Office;

/// <summary>Languages that the pages are written in; each has its files in Words.</summary>
static class Languages
{
    public const string Cookie = "farberth-language";

    public static readonly IReadOnlyDictionary<string, string> All = new Dictionary<string, string> { ["en"] = "English", ["de"] = "Deutsch" };
}
