using Farberth.Adapters.Stores.Intake;

namespace Farberth.Adapters.Tests.Stores.Intake;

/// <summary>The examples of RFC 3720, section B.4, as the four bytes of the CRC stand there; taken from memory.</summary>
public class Crc32CTests
{
    static byte[] Bytes(Func<int, int> at) => [.. Enumerable.Range(0, 32).Select(i => (byte)at(i))];

    [Fact]
    public void The_published_examples_come_out()
    {
        Assert.Equal("AA36918A", Hex(Bytes(_ => 0)));
        Assert.Equal("43ABA862", Hex(Bytes(_ => 0xFF)));
        Assert.Equal("4E79DD46", Hex(Bytes(i => i)));
        Assert.Equal("5CDB3F11", Hex(Bytes(i => 31 - i)));
    }

    [Fact]
    public void A_part_after_a_part_gives_what_the_whole_gives()
    {
        var whole = Bytes(i => i * 7);
        for (var cut = 0; cut <= whole.Length; cut++)
            Assert.Equal(Crc32C.Of(whole), Crc32C.Of(whole.AsSpan(cut), Crc32C.Of(whole.AsSpan(0, cut))));
    }

    static string Hex(byte[] bytes) => Convert.ToHexString(BitConverter.GetBytes(Crc32C.Of(bytes)));
}
