using System.Collections;
using System.Globalization;
using System.Resources;
using System.Text.RegularExpressions;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Words;
using Farberth.Service.Boater;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Tests.Boater;

public class WordTests
{
    static readonly Dictionary<string, string> English = All("Boater", "");

    public static TheoryData<string> Others => [.. WordBook.Languages.Where(language => language != "en")];

    [Theory]
    [MemberData(nameof(Others))]
    public void Every_language_has_the_same_keys_with_the_same_parts(string language)
    {
        var other = All("Boater", language);

        Assert.True(English.Count > 100);
        Assert.Equal(English.Keys.Order(), other.Keys.Order());
        Assert.All(English.Keys, key => Assert.Equal(Parts(English[key]), Parts(other[key])));
        Assert.True(English.Count(one => other[one.Key] == one.Value) < English.Count / 5, "it is not translated");
        Assert.Equal(All("Writing", "").Keys.Order(), All("Writing", language).Keys.Order());
    }

    [Fact]
    public void Everything_that_the_monitor_can_say_has_a_word() => Assert.All(new[]
    {
        AlarmKinds.Words.Select(kind => $"kind.{kind}"),
        Enum.GetValues<Ask>().SelectMany(ask => new[] { $"why.{ask.Word()}", $"asked.{ask.Word()}" }),
        Enum.GetNames<SlipFault>().SelectMany(fault => new[] { $"why.fault.{fault}", $"fault.{fault}" }),
        Enum.GetNames<Said>().Select(said => $"said.{said.ToLowerInvariant()}"),
        Enum.GetNames<Standing>().Select(standing => $"standing.{standing}"),
        Enum.GetNames<Level>().Select(level => $"level.{level}"),
        new[] { 120.0, 230.0 }.SelectMany(Appliances.All).Select(one => one.Name),
    }.SelectMany(keys => keys), key => Assert.True(English.ContainsKey(key), key));

    [Fact]
    public void The_caution_is_that_of_everything_else() => Assert.Equal(Caution.Text, English["caution"]);

    [Theory]
    [InlineData("de-AT,de;q=0.9,en;q=0.5", "", "de", false, false)]
    [InlineData("fr,en-GB;q=0.8,de;q=0.7", "", "en", false, false)]
    [InlineData("en-US,en;q=0.9", "", "en", true, true)]
    [InlineData("en-US", "?units=c&clock=24", "en", false, false)]
    [InlineData("de", "?lang=en&units=f&clock=12", "en", true, true)]
    [InlineData("", "?lang=xx", "en", false, false)]
    [InlineData("de;q=0, en", "", "en", false, false)]
    public void The_reader_gets_what_he_asks_for_and_else_what_his_browser_does(string accepted, string query, string language, bool fahrenheit, bool twelve)
    {
        var context = new DefaultHttpContext();
        context.Request.Headers.AcceptLanguage = accepted;
        context.Request.QueryString = new(query);

        Assert.Equal(new Preferences { Language = language, IsFahrenheit = fahrenheit, Is12Hours = twelve }, Preferences.OfAddress(context.Request));
    }

    [Theory]
    [InlineData("", "en.auto.C.m.24h")]
    [InlineData("de.night.F.ft.12h", "de.night.F.ft.12h")]
    [InlineData("day.C.m.24h", "en.day.C.m.24h")]
    [InlineData("xx.dusk.K", "en.auto.C.m.24h")]
    public void What_a_console_s_reader_has_chosen_is_read_from_his_cookie(string cookie, string read)
    {
        var context = new DefaultHttpContext();
        context.Request.Headers.Cookie = $"{Preferences.Cookie}={cookie}";

        Assert.Equal(read, Preferences.OfCookie(context.Request).ToString());
    }

    [Fact]
    public void A_sentence_is_english_for_programs_and_in_the_readers_language_on_a_page()
    {
        var at = new DateTimeOffset(2027, 8, 3, 14, 5, 0, TimeSpan.Zero);
        var said = Sentence.Of("{0} lies in slip {1} from {2} to {3}: end that stay first, or choose other days.", "Osprey", "B1", at, at.AddDays(1));

        Assert.Equal("Osprey lies in slip B1 from 2027-08-03T14:05:00.0000000+00:00 to 2027-08-04T14:05:00.0000000+00:00: end that stay first, or choose other days.", said.ToString());
        Assert.Equal(
            "Osprey liegt am Platz B1 von 2027-08-03 14:05 bis 2027-08-04 14:05: Beenden Sie erst diesen Aufenthalt, oder wählen Sie andere Tage.",
            WordBook.OfConsole("de")[Writing("de").Written(said)]);
    }

    [Theory]
    [InlineData(0, "12:05 am")]
    [InlineData(11, "11:05 am")]
    [InlineData(12, "12:05 pm")]
    [InlineData(23, "11:05 pm")]
    public void Twelve_hours_are_counted_from_twelve(int hour, string written) =>
        Assert.Equal(written, Writing("en", twelve: true).Time(new(2027, 8, 3, hour, 5, 0, TimeSpan.Zero)));

    [Fact]
    public void Numbers_days_and_spans_are_written_in_the_readers_language()
    {
        var at = new DateTimeOffset(2027, 8, 3, 14, 5, 0, TimeSpan.Zero); // a Tuesday
        Assert.Equal(("12,5", "−3", "Di, 3. August, 14:05", "2 Stunden"), (
            Writing("de").Number(12.46, 1), Writing("de").Number(-3), Writing("de").DayAndTime(at), Writing("de").Span(TimeSpan.FromMinutes(110))));
        Assert.Equal(("Tue 3 Aug, 14:05", "14:05"), (Writing("en").DayAndTime(at), Writing("en").Moment(at, at.AddHours(2))));
        Assert.Equal(("112,4 V", "27 A", "27,5 A", "45 %", "2027-08-03 14:05", "2:05:00 pm"), (
            Writing("de").Volts(112.36), Writing("de").Amps(27), Writing("de").Amps(27.46), Writing("de").Share(0.451), Writing("de").DateAndTime(at), Writing("en", twelve: true).TimeWithSeconds(at)));
        Assert.Equal("33 ft", new Writing(new() { IsFeet = true }, TimeZoneInfo.Utc).Length(10)); // 10 m are 32.8 ft
        Assert.Equal("167 °F", new Writing(new() { IsFahrenheit = true }, TimeZoneInfo.Utc).Celsius(75));
    }

    static Writing Writing(string language, bool twelve = false) =>
        new(new() { Language = language, Is12Hours = twelve }, TimeZoneInfo.Utc);

    static IEnumerable<string> Parts(string text) => Regex.Matches(text, @"\{\d\}").Select(part => part.Value).Distinct().Order();

    static Dictionary<string, string> All(string book, string language)
    {
        var set = new ResourceManager($"Farberth.Service.Words.{book}", typeof(WordBook).Assembly)
            .GetResourceSet(new CultureInfo(language), createIfNotExists: true, tryParents: false);
        return set!.Cast<DictionaryEntry>().ToDictionary(one => (string)one.Key, one => (string)one.Value!);
    }
}
