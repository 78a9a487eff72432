using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Farberth.Console.Tests;

/// <summary>The way of each person through the console, against the real service and broker.</summary>
public class WhatPeopleDo(Marina marina) : IClassFixture<Marina>
{
    [Fact]
    public async Task The_dock_office_sees_what_is_wrong_answers_it_and_puts_it_aside_with_a_reason()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        await hollis.Go("/");
        var alarm = hollis.Page.Locator(".need li", new() { HasTextString = "slip G-2" });
        await Expect(alarm).ToContainTextAsync("Too many amps");
        await alarm.GetByRole(AriaRole.Link).ClickAsync();

        await Expect(hollis.Page.GetByRole(AriaRole.Heading, new() { Name = "What to do" })).ToBeVisibleAsync();
        await hollis.Page.GetByRole(AriaRole.Button, new() { Name = "I have seen it" }).ClickAsync();
        await Expect(hollis.Page.Locator("ul.alarms")).ToContainTextAsync("somebody knows");

        await hollis.Page.GetByText("Put aside", new() { Exact = true }).ClickAsync();
        await hollis.Page.GetByRole(AriaRole.Button, new() { Name = "Shelve" }).ClickAsync();
        await Expect(hollis.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("Say why first");
        await hollis.Page.GetByLabel("Why").FillAsync("the owner is on his way");
        await hollis.Page.GetByRole(AriaRole.Button, new() { Name = "Shelve" }).ClickAsync();
        await Expect(hollis.Page.Locator("p", new() { HasTextString = "by hollis until" })).ToContainTextAsync("the owner is on his way");
        await Expect(hollis.Page.Locator("tbody")).ToContainTextAsync("acknowledged by hollis");

        await hollis.Page.GetByRole(AriaRole.Button, new() { Name = "Off the shelf" }).ClickAsync();
        await Expect(hollis.Page.Locator("ul.alarms")).ToContainTextAsync("standing");
        Assert.Empty(hollis.Complaints);
    }

    [Fact]
    public async Task The_dock_office_writes_a_boat_down_and_its_people_open_their_page_by_the_link()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        await hollis.Go("/boats");
        await hollis.Page.GetByLabel("Slip", new() { Exact = true }).FillAsync("G-2");
        await hollis.Page.GetByLabel("Boat", new() { Exact = true }).FillAsync("Otterling");
        await hollis.Page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        var stay = hollis.Page.Locator("tr", new() { HasTextString = "Otterling" });
        await Expect(stay).ToBeVisibleAsync();
        var link = await stay.GetByRole(AriaRole.Link, new() { Name = "link", Exact = true }).GetAttributeAsync("href");

        await using var boater = await marina.Chromium.Visit(marina.Home, width: 390);
        await boater.Go(new Uri(link!).PathAndQuery, isLive: false);
        await Expect(boater.Page.Locator("body")).ToContainTextAsync("G-2");
        Assert.DoesNotContain("G-1", await boater.Page.InnerTextAsync("body"), StringComparison.Ordinal);
        Assert.Empty(await boater.Barriers());

        await stay.GetByRole(AriaRole.Button, new() { Name = "Revoke the link" }).ClickAsync();
        await Expect(stay).ToContainTextAsync("revoked");
        Assert.Equal(410, (await boater.Go(new Uri(link!).PathAndQuery, isLive: false))!.Status);
        await stay.GetByRole(AriaRole.Button, new() { Name = "It has left" }).ClickAsync();
        await Expect(stay).ToBeHiddenAsync();
    }

    [Fact]
    public async Task The_dock_office_asks_where_the_next_boat_goes_and_takes_a_slip_for_it()
    {
        await using var hollis = await marina.As(Marina.Harbormaster);
        await hollis.Go("/boats");
        await hollis.Page.GetByLabel("Length, m").FillAsync("8.5");
        await hollis.Page.GetByLabel("Its cord").SelectOptionAsync("30 A");
        await hollis.Page.GetByRole(AriaRole.Button, new() { Name = "Look for slips" }).ClickAsync();
        var offers = hollis.Page.GetByRole(AriaRole.Region, new() { Name = "Slips for this boat" });
        await Expect(offers.Locator("tbody tr").First).ToContainTextAsync(" V");
        Assert.Empty(await hollis.Barriers());
        await hollis.Page.GetByText("Why not the others").ClickAsync();
        await Expect(hollis.Page.Locator("dl.numbers")).ToContainTextAsync("is in use (9.0 A), though nobody is said to lie there");

        await offers.GetByRole(AriaRole.Button).First.ClickAsync();
        await Expect(hollis.Page.GetByLabel("Slip", new() { Exact = true })).ToHaveValueAsync("G-3");
        await hollis.Page.GetByLabel("Length, m").FillAsync("0");
        await hollis.Page.GetByRole(AriaRole.Button, new() { Name = "Look for slips" }).ClickAsync();
        await Expect(hollis.Page.GetByRole(AriaRole.Alert).First).ToHaveTextAsync("Say how long, wide and deep the boat is.");
        Assert.Empty(hollis.Complaints);
    }

    [Fact]
    public async Task The_electrician_looks_back_puts_two_moments_side_by_side_and_takes_the_survey_along()
    {
        await using var edda = await marina.As(Marina.Electrician, width: 1920);
        await edda.Go("/bench/G");
        await Expect(edda.Page.Locator(".survey svg text").First).ToBeVisibleAsync();
        var table = await edda.Page.GetByRole(AriaRole.Link, new() { Name = "Cables as CSV" }).GetAttributeAsync("href");
        var survey = await edda.Page.Context.APIRequest.GetAsync(table!);
        var text = await survey.TextAsync();
        Assert.True(survey.Ok && text.Contains("G2", StringComparison.Ordinal), text);
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "Look back" }).ClickAsync();
        await Expect(edda.Page.Locator(".survey")).ToHaveCountAsync(1);
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "Look beside" }).ClickAsync();
        await Expect(edda.Page.Locator(".survey")).ToHaveCountAsync(2);
        await Expect(edda.Page.Locator(".survey").First).ToContainTextAsync("Not in it:");
    }

    [Fact]
    public async Task The_electrician_is_shown_the_mistakes_of_a_site_file_and_what_a_good_one_would_change()
    {
        await using var edda = await marina.As(Marina.Electrician);
        await edda.Go("/site-file");
        var text = edda.Page.GetByLabel("Its text");
        var good = await File.ReadAllTextAsync(Marina.SiteFile, TestContext.Current.CancellationToken);
        await Expect(text).ToHaveValueAsync(good);

        await text.FillAsync(good.Replace("length: 60 m", "length: sixty", StringComparison.Ordinal));
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "What would it change?" }).ClickAsync();
        await Expect(edda.Page.Locator("main")).ToContainTextAsync("line 10, column");
        await Expect(edda.Page.GetByRole(AriaRole.Button, new() { Name = "Put it to use" })).ToBeDisabledAsync();

        await text.FillAsync(good.Replace("length: 60 m", "length: 90 m", StringComparison.Ordinal));
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "What would it change?" }).ClickAsync();
        await Expect(edda.Page.GetByRole(AriaRole.Row, new() { NameString = "G G2 L1" })).ToBeVisibleAsync();
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "Put it to use" }).ClickAsync();
        await Expect(edda.Page.Locator("main")).ToContainTextAsync("from the next start");
    }

    [Fact]
    public async Task A_viewer_sees_and_changes_nothing()
    {
        await using var vic = await marina.As(Marina.Viewer);
        await vic.Go("/alarms");
        await Expect(vic.Page.Locator("ul.alarms").First).ToContainTextAsync("Too many amps");
        Assert.Equal(0, await vic.Page.GetByRole(AriaRole.Button, new() { Name = "I have seen it" }).CountAsync());
        foreach (var path in new[] { "/boats", "/site-file", "/people" })
        {
            await vic.Go(path, isLive: false);
            await Expect(vic.Page.Locator("h1")).ToHaveTextAsync("Your account may not do that");
        }
    }

    [Fact]
    public async Task Who_is_not_signed_in_is_sent_to_do_so_and_then_on()
    {
        await using var stranger = await marina.Chromium.Visit(marina.Home);
        await stranger.Go("/bench/G", isLive: false);
        await stranger.Page.GetByLabel("Name").FillAsync(Marina.Viewer);
        await stranger.Page.GetByLabel("Password").FillAsync("something else entirely");
        await stranger.Page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await Expect(stranger.Page.GetByRole(AriaRole.Alert)).ToHaveTextAsync("The name or the password is wrong.");
        Assert.Empty(await stranger.Barriers());
        await stranger.Page.GetByLabel("Password").FillAsync(Marina.Password);
        await stranger.Page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await Expect(stranger.Page.Locator("h1")).ToContainTextAsync("where the volts go");
        await stranger.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await stranger.ArrivesAt("/sign-in");
    }

    [Fact]
    public async Task With_a_passkey_nobody_types_a_password()
    {
        await using var edda = await marina.As(Marina.Electrician);
        var keys = await edda.Page.Context.NewCDPSessionAsync(edda.Page);
        await keys.SendAsync("WebAuthn.enable");
        await keys.SendAsync("WebAuthn.addVirtualAuthenticator", new()
        {
            ["options"] = new Dictionary<string, object>
            {
                ["protocol"] = "ctap2", ["transport"] = "internal", ["hasResidentKey"] = true, ["hasUserVerification"] = true, ["isUserVerified"] = true,
            },
        });
        await edda.Go("/account", isLive: false);
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await Expect(edda.Page.Locator("main")).ToContainTextAsync("The passkey is added.");
        Assert.Empty(await edda.Barriers());
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await edda.Page.GetByRole(AriaRole.Button, new() { Name = "With a passkey" }).ClickAsync();
        await edda.ArrivesAt("/");
        await Expect(edda.Page.Locator("header")).ToContainTextAsync(Marina.Electrician);
    }

    [Fact]
    public async Task The_administrator_reads_who_did_what_and_stays_the_last_one()
    {
        await using var mara = await marina.As(Marina.Administrator);
        await mara.Go("/people", isLive: false);
        await Expect(mara.Page.Locator("main")).ToContainTextAsync("add account as electrician");
        Assert.Empty(await mara.Barriers());
        var mine = mara.Page.Locator("tr", new() { HasTextString = Marina.Administrator }).First;
        await mine.GetByRole(AriaRole.Combobox).SelectOptionAsync("remove");
        await mine.GetByRole(AriaRole.Button).ClickAsync();
        await Expect(mara.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("Somebody must remain administrator.");
    }
}
