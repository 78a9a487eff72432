using System.Globalization;
using System.Resources;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Wire;
using Farberth.Monitoring.Words;
using Farberth.Planning.Flow;
using Farberth.Service.Office.Live;
using Farberth.Service.Views;
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
        var english = Found("Service/Office", Asked()).Concat(Found("", Sentences())).Concat(AlarmWords.All).Concat(AlarmKinds.Words.Select(kind => AlarmGuide.Of(kind).Do)).Concat(Farberth.Service.Access.Roles.All).Append(Cautions.Text).ToHashSet();
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

    public static TheoryData<AlarmKind> Kinds => [.. AlarmRules.All.Select(rule => rule.Kind)];

    /// <summary>What its rule can say of it, and no other language has only a part of.</summary>
    [Theory, MemberData(nameof(Kinds))]
    public void Every_kind_of_alarm_is_told_in_both_languages(AlarmKind kind)
    {
        var rule = AlarmRules.All.Single(rule => rule.Kind == kind).GetType().Name;
        var said = Sentences().Matches(File.ReadAllText(Path.Combine(Source(), "Monitoring/Alarms/Rules", $"{rule}.cs"))).Select(match => match.Groups[1].Value).ToList();
        Assert.NotEmpty(said);
        Assert.All(said, english => Assert.NotEqual(english, WordBook.OfConsole("de")[english]));
    }

    public static TheoryData<LimitKind> Limits => [.. Enum.GetValues<LimitKind>()];

    [Theory, MemberData(nameof(Limits))]
    public void Every_limit_for_which_a_slip_is_refused_is_told_in_both_languages(LimitKind kind)
    {
        var at = DateTimeOffset.UnixEpoch.AddHours(16);
        var why = Sentence.Of("{0} at {1}", LimitWords.WouldBe(new(kind, "G7", Leg.L2, 107.5), 104.25), new Moment(at, "Thu 1 Jan 16:00"));

        Assert.Equal($"{why}".Replace("Thu 1 Jan 16:00", "Thu 1 Jan, 16:00", StringComparison.Ordinal), Read("en", why));
        Assert.Contains("Do, 1. Januar, 16:00", Read("de", why), StringComparison.Ordinal);
        Assert.DoesNotContain("would", Read("de", why), StringComparison.Ordinal);
    }

    /// <summary>Every file with mistakes that the reader's own tests have; what the library for YAML and the tables of conductors say stays as they say it.</summary>
    [Fact]
    public void A_mistake_of_a_site_file_is_read_in_both_languages()
    {
        var mistakes = Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "data", "sites"), "bad-*.yaml").SelectMany(file => SiteFile.Read(File.ReadAllText(file)).Mistakes).ToList();
        Assert.True(mistakes.Count > 50, $"{mistakes.Count} mistakes");
        Assert.All(mistakes.Where(mistake => mistake.Said is not null), mistake =>
        {
            Assert.Equal(mistake.Message, WordBook.OfConsole("en")[mistake.Said!]);
            Assert.NotEqual(mistake.Message, WordBook.OfConsole("de")[mistake.Said!]);
        });
        Assert.True(mistakes.Count(mistake => mistake.Said is null) < mistakes.Count / 10, "hardly any is told sentence by sentence");
    }

    static string Read(string language, Sentence said) => WordBook.OfConsole(language)[new Writing(new() { Language = language }, TimeZoneInfo.Utc).Written(said)];

    [Fact]
    public void An_alarm_is_read_in_the_readers_language_with_his_decimals_also_when_it_comes_back_from_the_journal()
    {
        Sentence[] said =
        [
            Sentence.Of("Pedestal {0} has {1:0.0} V on {2}; it should have at least {3:0} V.", "G7", 109.44, Leg.L2, 114.0),
            Sentence.Of("Motors draw more amps as the volts fall: switch off air conditioning on that leg before it stalls."),
        ];
        var alarm = new Alarm("G.G7.undervoltage", AlarmKind.Undervoltage, AlarmState.Unacknowledged, Priority.Low, DateTimeOffset.UnixEpoch, new("G", Pedestal: "G7"), Audience.Electrician, string.Join(' ', said.Select(one => $"{one}")), []) { Said = said };
        var read = AlarmJsonReader.Transition(System.Text.Encoding.UTF8.GetString(AlarmJson.Of(new AlarmTransition(DateTimeOffset.UnixEpoch, AlarmState.Normal, alarm, ""))), AlarmState.Normal).Alarm;

        Assert.Equal(alarm.Message, WordBook.OfConsole("en").Of(read.Said, ""));
        Assert.StartsWith("Säule G7 hat 109,4 V auf L2; es sollten mindestens 114 V sein. Motoren", WordBook.OfConsole("de").Of(read.Said, ""), StringComparison.Ordinal);
        Assert.Equal("as it was written", WordBook.OfConsole("de").Of([], "as it was written"));
    }

    static IEnumerable<string> Found(string below, Regex pattern) =>
        Directory.EnumerateFiles(Path.Combine(Source(), below), "*", SearchOption.AllDirectories).Where(file => file.EndsWith(".razor", StringComparison.Ordinal) || file.EndsWith(".cs", StringComparison.Ordinal))
            .SelectMany(file => pattern.Matches(File.ReadAllText(file)).Select(match => match.Groups[1].Value));

    static IEnumerable<string> Parts(string sentence) => Part().Matches(sentence).Select(part => part.Value).Order(StringComparer.Ordinal);

    static string Source([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../src"));

    [GeneratedRegex("""\b(?:W|words)\["([^"]+)"[\],]""")]
    private static partial Regex Asked();

    [GeneratedRegex("""\bSentence\.Of\(\s*"([^"]+)"[,)]""")]
    private static partial Regex Sentences();

    [GeneratedRegex(@"\{\d(:[^}]*)?\}")]
    private static partial Regex Part();
}
