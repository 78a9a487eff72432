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
        var german = new ResourceManager(typeof(OfficeWords)).GetResourceSet(CultureInfo.GetCultureInfo("de"), createIfNotExists: true, tryParents: false)!
            .Cast<System.Collections.DictionaryEntry>().Select(word => (string)word.Key).ToHashSet();
        var english = Directory.EnumerateFiles(Office(), "*", SearchOption.AllDirectories).Where(file => file.EndsWith(".razor", StringComparison.Ordinal) || file.EndsWith(".cs", StringComparison.Ordinal))
            .SelectMany(file => Asked().Matches(File.ReadAllText(file)).Select(match => match.Groups[1].Value))
            .Concat(AlarmWords.All).Concat(Farberth.Service.Access.Roles.All).Append(Cautions.Text).ToHashSet();
        Assert.True(english.Count > 200, "the scan finds hardly any word");
        Assert.Empty(english.Except(german));
    }

    [Fact]
    public void A_translation_has_the_parts_of_its_sentence()
    {
        foreach (System.Collections.DictionaryEntry word in new ResourceManager(typeof(OfficeWords)).GetResourceSet(CultureInfo.GetCultureInfo("de"), true, false)!)
            Assert.Equal(Parts((string)word.Key), Parts((string)word.Value!));
    }

    static IEnumerable<string> Parts(string sentence) => Part().Matches(sentence).Select(part => part.Value).Order(StringComparer.Ordinal);

    static string Office([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../src/Service/Office"));

    [GeneratedRegex("""\b(?:W|words)\["([^"]+)"[\],]""")]
    private static partial Regex Asked();

    [GeneratedRegex(@"\{\d\}")]
    private static partial Regex Part();
}
