using System.Globalization;
using System.Resources;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using Farberth.Monitoring.Alarms;
using Farberth.Service.Office.Live;
using Farberth.Service.Words;

namespace Farberth.Service.Tests;

/// <summary>English stands in the console's pages; every other language must have all of it.</summary>
public partial class WordsOfTheConsole
{
    [Fact]
    public void German_has_every_word()
    {
        var german = new ResourceManager("Farberth.Service.Words.OfficeWords", typeof(WordBook).Assembly).GetResourceSet(CultureInfo.GetCultureInfo("de"), createIfNotExists: true, tryParents: false)!
            .Cast<System.Collections.DictionaryEntry>().Select(word => (string)word.Key).ToHashSet();
        var english = Found("Office", Asked()).Concat(Found("", Sentences())).Concat(AlarmWords.All).Concat(Farberth.Service.Access.Roles.All).Append(Cautions.Text).ToHashSet();
        Assert.True(english.Count > 200, "the scan finds hardly any word");
        Assert.Contains("The stay ends before it begins.", english);
        Assert.Empty(english.Except(german));
    }

    [Fact]
    public void A_translation_has_the_parts_of_its_sentence()
    {
        foreach (System.Collections.DictionaryEntry word in new ResourceManager("Farberth.Service.Words.OfficeWords", typeof(WordBook).Assembly).GetResourceSet(CultureInfo.GetCultureInfo("de"), true, false)!)
            Assert.Equal(Parts((string)word.Key), Parts((string)word.Value!));
    }

    static IEnumerable<string> Found(string below, Regex pattern) =>
        Directory.EnumerateFiles(Path.Combine(Service(), below), "*", SearchOption.AllDirectories).Where(file => file.EndsWith(".razor", StringComparison.Ordinal) || file.EndsWith(".cs", StringComparison.Ordinal))
            .SelectMany(file => pattern.Matches(File.ReadAllText(file)).Select(match => match.Groups[1].Value));

    static IEnumerable<string> Parts(string sentence) => Part().Matches(sentence).Select(part => part.Value).Order(StringComparer.Ordinal);

    static string Service([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../src/Service"));

    [GeneratedRegex("""\b(?:W|words)\["([^"]+)"[\],]""")]
    private static partial Regex Asked();

    [GeneratedRegex("""\bSentence\.Of\(\s*"([^"]+)"[,)]""")]
    private static partial Regex Sentences();

    [GeneratedRegex(@"\{\d\}")]
    private static partial Regex Part();
}
