using System.Buffers.Text;
using System.Net;
using Farberth.Service.Access;
using Farberth.Service.Boater;

namespace Farberth.Service.Tests.Boater;

public sealed class LinkTests : IDisposable
{
    readonly DockOffice office = new();

    public void Dispose() => office.Dispose();

    [Fact]
    public async Task A_link_opens_the_page_of_its_own_slip_and_stay()
    {
        var stay = await office.Stay("B3");

        var (opened, status) = await office.Door.Open(office.Links.Token(stay), IPAddress.Loopback);

        Assert.Equal(200, status);
        Assert.Equal(stay, opened);
    }

    [Fact]
    public async Task A_link_with_any_bit_changed_opens_nothing()
    {
        var bytes = Base64Url.DecodeFromChars(office.Links.Token(await office.Stay()));
        for (var bit = 0; bit < 8 * bytes.Length; bit++)
        {
            var forged = (byte[])bytes.Clone();
            forged[bit / 8] ^= (byte)(1 << bit % 8);
            Assert.Null(office.Links.Read(Base64Url.EncodeToString(forged)));
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("x")]
    [InlineData("AQAAAAE")]
    [InlineData("not a token at all!")]
    [InlineData("AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA")]
    public async Task What_is_no_link_opens_nothing(string token) => Assert.Equal(404, await office.Status(token));

    [Fact]
    public void A_link_is_as_short_as_its_parts_and_no_longer_text_is_even_decoded()
    {
        // 9 bytes of head, 2 of slip and 16 of signature are 27 bytes, which base64 writes in 36 letters (RFC 4648).
        Assert.Equal(36, office.Links.Token(new BoatStay(1, "B1", "Osprey", DockOffice.Noon, DockOffice.Noon)).Length);
        Assert.Null(office.Links.Read(new string('A', 100_000)));
    }

    [Fact]
    public async Task Another_services_key_signs_nothing_here()
    {
        var stay = await office.Stay();

        Assert.Equal(404, await office.Status(new BoaterLinks(LinkKey.In(null)).Token(stay)));
    }

    [Fact]
    public async Task A_link_to_another_slip_than_that_of_its_stay_opens_nothing()
    {
        var stay = await office.Stay("B1");

        Assert.Equal(410, await office.Status(office.Links.Token(stay with { Slip = "B2" })));
    }

    [Fact]
    public async Task A_link_is_closed_before_the_stay_and_after_it()
    {
        var token = office.Links.Token(await office.Stay(fromDay: 1, toDay: 3));

        Assert.Equal(404, await office.Status(token));
        office.Clock.Advance(TimeSpan.FromDays(1));
        Assert.Equal(200, await office.Status(token));
        office.Clock.Advance(TimeSpan.FromDays(2) - TimeSpan.FromSeconds(1));
        Assert.Equal(200, await office.Status(token));
        office.Clock.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal(410, await office.Status(token));
    }

    [Fact]
    public async Task A_link_that_was_revoked_or_whose_boat_has_left_is_closed()
    {
        var (revoked, left) = (await office.Stay("B1"), await office.Stay("B2"));
        await office.Stays.Revoke(revoked.Id);
        await office.Stays.End(left.Id);

        Assert.Equal(410, await office.Status(office.Links.Token(revoked)));
        Assert.Equal(410, await office.Status(office.Links.Token(left)));
    }

    [Fact]
    public async Task Who_tries_many_wrong_links_is_sent_away_and_shuts_the_door_to_nobody()
    {
        var right = office.Links.Token(await office.Stay());
        var statuses = new List<int>();
        for (var at = 0; at <= Doorkeeper.WrongAMinute; at++)
            statuses.Add((await office.Door.Open($"wrong{at}", IPAddress.Parse("2001:db8::1"))).Status);

        Assert.Equal([.. Enumerable.Repeat(404, Doorkeeper.WrongAMinute), 429], statuses);
        Assert.Equal(429, (await office.Door.Open("wrong", IPAddress.Parse("2001:db8::2"))).Status); // the same network
        Assert.Equal(404, (await office.Door.Open("wrong", IPAddress.Parse("2001:db8:1::1"))).Status);
        Assert.Equal(200, (await office.Door.Open(right, IPAddress.Parse("2001:db8::1"))).Status);
    }

    [Fact]
    public async Task A_mailed_code_is_good_for_its_address_and_its_stay_alone()
    {
        var (stay, other) = (await office.Stay("B1"), await office.Stay("B2"));
        var code = office.Links.MailCode(stay, "ana@example.org");

        Assert.Equal("ana@example.org", office.Links.ReadMailCode(stay, code));
        Assert.Null(office.Links.ReadMailCode(other, code));
        Assert.Null(office.Links.ReadMailCode(stay, office.Links.MailCode(other, "ana@example.org")));
        Assert.Null(office.Links.ReadMailCode(stay, office.Links.Token(stay)));
    }

    [Fact]
    public async Task The_way_out_of_a_notice_is_signed_says_no_address_and_opens_no_page()
    {
        var code = office.Links.StopCode("stay 7 mail 0123456789ab");

        Assert.Equal("stay 7 mail 0123456789ab", office.Links.ReadStopCode(code));
        Assert.Null(new BoaterLinks(LinkKey.In(null)).ReadStopCode(code));
        Assert.Null(office.Links.ReadStopCode(office.Links.Token(await office.Stay())));
        Assert.Equal(404, await office.Status(code));
        var bytes = Base64Url.DecodeFromChars(code);
        for (var bit = 0; bit < 8 * bytes.Length; bit++)
        {
            bytes[bit / 8] ^= (byte)(1 << bit % 8);
            Assert.Null(office.Links.ReadStopCode(Base64Url.EncodeToString(bytes)));
            bytes[bit / 8] ^= (byte)(1 << bit % 8);
        }
    }

    [Fact]
    public void The_key_is_kept_for_its_owner_alone_and_is_the_same_after_a_restart()
    {
        var folder = Directory.CreateTempSubdirectory("key-").FullName;
        try
        {
            var first = LinkKey.In(folder).Sign("x"u8);

            Assert.Equal(first, LinkKey.In(folder).Sign("x"u8));
            var path = Path.Combine(folder, LinkKey.FileName);
            if (!OperatingSystem.IsWindows())
                Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(path));
            File.WriteAllBytes(path, [1, 2, 3]);
            Assert.Throws<IOException>(() => LinkKey.In(folder));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
