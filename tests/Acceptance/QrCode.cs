using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using ZXing;

namespace Farberth.Acceptance.Tests;

/// <summary>Reads a QR code out of an SVG as a phone does out of a picture: drawn first, then read by a decoder that is not this project's.</summary>
static partial class QrCode
{
    const int PixelsAModule = 6;

    public static string? Read(string svg)
    {
        var root = XDocument.Parse(svg).Root!;
        var size = int.Parse(((string)root.Attribute("viewBox")!).Split(' ')[2], CultureInfo.InvariantCulture) * PixelsAModule;
        var grey = new byte[size * size];
        Array.Fill(grey, (byte)255);
        foreach (Match run in Runs().Matches((string)root.Elements().Single(one => one.Name.LocalName == "path").Attribute("d")!))
        {
            var (x, y, length) = (Pixels(run, 1), Pixels(run, 2), Pixels(run, 3));
            for (var row = 0; row < PixelsAModule; row++)
                grey.AsSpan((y + row) * size + x, length).Clear();
        }
        return new BarcodeReaderGeneric { Options = { PossibleFormats = [BarcodeFormat.QR_CODE] } }
            .Decode(new RGBLuminanceSource(grey, size, size, RGBLuminanceSource.BitmapFormat.Gray8))?.Text;
    }

    static int Pixels(Match run, int group) => PixelsAModule * int.Parse(run.Groups[group].ValueSpan, CultureInfo.InvariantCulture);

    /// <summary>Dark modules in a row: "M4 4h7v1h-7z".</summary>
    [GeneratedRegex(@"M(\d+) (\d+)h(\d+)v1h-\d+z")]
    private static partial Regex Runs();
}
