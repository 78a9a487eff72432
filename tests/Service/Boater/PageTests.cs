using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Telling;
using Farberth.Service.Boater;

namespace Farberth.Service.Tests.Boater;

/// <summary>The page of a slip, made from what the real monitor says.</summary>
public partial class PageTests
{
    static readonly Words.Preferences German = new() { Language = "de", IsFahrenheit = true, Is12Hours = true };

    static double Good(string pedestal) => 231;

    static double Little(string outlet) => 3;

    [Fact]
    public async Task In_a_quiet_hour_all_is_right_and_there_is_room()
    {
        var html = Text(await new ReadPage().Hear(3, Good, Little).Html("B1"));

        Assert.Contains("All right: your supply is good, and you have room.", html);
        Assert.Contains("Nothing. Use what you need", html);
        Assert.Contains("231 V: good", html);
        // 16 A · 80 % = 12.8 A for hours, less 3 A; the strongest thing on a boat at 230 V takes about 9 A (common practice).
        Assert.Contains("3.0 A now; for hours at most 12.8 A", html);
        Assert.Contains("about 9 A: a kettle still fits (about 9 A).", html);
    }

    [Fact]
    public async Task Who_draws_too_much_is_asked_to_switch_off_so_much_and_has_no_room()
    {
        var page = new ReadPage().Hear(3, Good, Little).Hear(300, Good, outlet => outlet == "Q1.A" ? 15.2 : 3);
        var html = Text(await page.Html("B1"));

        Assert.Equal(Ask.Shed, page.Slip("B1").Asked!.Ask);
        Assert.NotEqual(Standing.AllRight, Verdict.Of(page.Slip("B1")).Standing);
        Assert.Matches(@"Please switch off about [\d.]+ A until \d\d:\d\d\.", html);
        Assert.Contains("Your outlet carries more than it may.", html);
        Assert.Contains("A cord comes off only after everything on it is switched off.", html);
        Assert.Contains("none: 3 A too much.", html); // 15.2 − 12.8 = 2.4, and no less
        Assert.DoesNotContain("All right", html);
    }

    [Fact]
    public void A_neighbour_who_draws_too_much_is_not_this_boats_business()
    {
        var page = new ReadPage().Hear(3, Good, Little).Hear(300, Good, outlet => outlet == "Q1.A" ? 15.2 : 3);

        Assert.Contains(page.View.Standing, alarm => alarm.Id == "Q.Q1.A.overload");
        Assert.Equal(Standing.AllRight, Verdict.Of(page.Slip("B2")).Standing); // at the same pedestal
        Assert.Empty(page.Slip("B2").Alarms);
    }

    /// <summary>A sag along the quay, everybody over his limit, volts far outside, nobody heard any more: the names of all others stay out.</summary>
    [Fact]
    public async Task Nothing_of_a_neighbour_stands_on_the_page_whatever_happens()
    {
        var page = new ReadPage().Hear(3, Good, Little);
        await NothingOfNeighbours(page);
        page.Hear(200, pedestal => pedestal == "Q1" ? 224 : 199, outlet => outlet.EndsWith('A') ? 15.5 : 30);
        Assert.Contains(page.View.Standing, alarm => alarm.Message.Contains("Q3", StringComparison.Ordinal));
        await NothingOfNeighbours(page);
        page.Hear(100, pedestal => pedestal == "Q1" ? 231 : 0, outlet => outlet.StartsWith("Q1", StringComparison.Ordinal) ? 3 : 0);
        Assert.Contains(page.View.Standing, alarm => alarm.Kind == Monitoring.Alarms.AlarmKind.SupplyLost);
        await NothingOfNeighbours(page);
        await NothingOfNeighbours(page.Wait(TimeSpan.FromMinutes(3)));
    }

    /// <summary>For the dock's sake: the request gives a pedestal at the far end as its reason, which is another's.</summary>
    [Fact]
    public async Task Who_is_asked_for_the_docks_sake_does_not_read_whose_volts_are_low()
    {
        var page = new ReadPage().Hear(3, Good, Little).Hear(300, SaggingOutwards, outlet => outlet switch { "Q2.B" => 24, "Q3.A" or "Q4.A" => 0.5, _ => 12 });
        var asked = page.View.Docks["Q"].Advice.Standing.Where(advice => page.NamesOfOthers(advice.Slip).Any(name => ReadPage.Names(advice.Message, name))).ToList();

        Assert.NotEmpty(asked);
        await NothingOfNeighbours(page);
        Assert.Contains("The dock as a whole is at its limit", Text(await page.Html(asked[0].Slip)));
    }

    static double SaggingOutwards(string pedestal) => pedestal switch { "Q1" => 214, "Q2" => 206, _ => 205.5 };

    [Fact]
    public async Task The_page_with_its_style_and_script_is_below_60_kB_also_on_a_bad_day()
    {
        var page = new ReadPage().Hear(3, Good, Little).Hear(200, _ => 199, _ => 15.5);
        var past = Enumerable.Range(0, 60).Select(at => new Episode(page.Now.AddMinutes(-at), page.Now, page.View.Standing.First(), null)).ToList();

        var sent = Encoding.UTF8.GetByteCount(await page.Html("B4", German, past))
            + new[] { "boater.css", "boater.js", "boater-worker.js" }.Sum(name => Asset(name).Length);

        Assert.InRange(sent, 5_000, 60_000);
    }

    [Fact]
    public async Task What_is_old_says_so_and_is_not_called_right()
    {
        var page = new ReadPage().Hear(3, Good, Little).Wait(TimeSpan.FromMinutes(4));
        var html = Text(await page.Html("B1"));

        Assert.Equal(SlipFault.MeterSilent, page.Slip("B1").Fault);
        Assert.Contains("Not known now: your meter has not been heard lately.", html);
        Assert.Contains("Stale: last heard 4 minutes ago.", html);
        Assert.Contains("nobody warns you now", html);
        Assert.DoesNotContain("All right", html);
    }

    [Fact]
    public async Task A_lost_broker_and_a_service_that_stands_still_are_said()
    {
        var page = new ReadPage().Hear(3, Good, Little);

        page.With(view => view with { Link = new(LinkPhase.Waiting, "gone") });
        Assert.Contains("Not known now: the service hears no meters.", Text(await page.Html("B1")));
        page.With(view => view with { Link = new(LinkPhase.Connected), Now = view.Now!.Value.AddMinutes(-5) });
        Assert.Contains("stands still since 15:55", Text(await page.Html("B1"))); // 14:55 UTC in Lisbon's summer
    }

    [Fact]
    public async Task The_page_is_german_for_who_wants_it_with_its_own_decimals_and_clock()
    {
        var page = new ReadPage().Hear(3, Good, Little);
        var html = Text(await page.Html("B1", German));

        Assert.Contains("Alles in Ordnung: Ihre Versorgung ist gut", html);
        Assert.Contains("jetzt 3,0 A; stundenlang höchstens 12,8 A", html);
        Assert.Contains("4:00 pm", html);
        Assert.Contains("<html lang=\"de\">", await page.Html("B1", German));
    }

    [Fact]
    public async Task The_page_needs_no_script_and_its_form_is_a_form()
    {
        var html = await new ReadPage().Hear(3, Good, Little).Html("B1");

        Assert.Single(Regex.Matches(html, "<script"));
        Assert.Contains("<form method=\"post\" action=\"/b/token/mail", html);
        Assert.DoesNotContain("http-equiv", html); // a page that loads itself anew takes the reader's place away (WCAG 2.2, failure F41)
        Assert.DoesNotMatch(@"\son\w+=|<style|javascript:", html);
    }

    static async Task NothingOfNeighbours(ReadPage page)
    {
        foreach (var slip in page.View.Site.Slips.Keys)
        {
            var html = await page.Html(slip, past: Past(page, slip));
            Assert.DoesNotContain(page.NamesOfOthers(slip), name => ReadPage.Names(html, name));
        }
    }

    /// <summary>Of all that has happened, what the page would show of it.</summary>
    static IReadOnlyList<Episode> Past(ReadPage page, string slip)
    {
        var place = SlipPlace.Of(page.View.Docks["Q"], slip);
        return Episode.Of(page.View.History.Last.Where(step => place.Concerns(step.Alarm)).Select(step => new Monitoring.Ports.AlarmStepped(step)), DateTimeOffset.MinValue);
    }

    static byte[] Asset(string name)
    {
        using var stream = typeof(BoaterPages).Assembly.GetManifestResourceStream($"asset:{name}")!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    /// <summary>As it is read: without tags, spaces as one.</summary>
    static string Text(string html) => Spaces().Replace(WebUtility.HtmlDecode(Tags().Replace(html, "")), " ");

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tags();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
