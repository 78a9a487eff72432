using QRCoder;

namespace Farberth.Service.Boater;

/// <summary>A link as a QR code (ISO/IEC 18004).</summary>
static class LinkCode
{
    /// <summary>An SVG that fits whatever it is put into. Level M: a seventh of it may be dirt.</summary>
    public static string Svg(Uri link)
    {
        using var code = QRCodeGenerator.GenerateQrCode(link.AbsoluteUri, QRCodeGenerator.ECCLevel.M);
        using var drawing = new SvgQRCode(code);
        return drawing.GetGraphic(4, "#000000", "#ffffff", drawQuietZones: true, SvgQRCode.SizingMode.ViewBoxAttribute);
    }
}
