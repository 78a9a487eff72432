using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace Farberth.Service.Office.Live;

/// <summary>The element "text" of SVG, which a Razor file takes for a word of its own.</summary>
public sealed class SvgText : ComponentBase
{
    [Parameter] public double X { get; set; }

    [Parameter] public double Y { get; set; }

    [Parameter] public string? Class { get; set; }

    [Parameter, EditorRequired] public string Words { get; set; } = "";

    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        builder.OpenElement(0, "text");
        builder.AddAttribute(1, "x", X);
        builder.AddAttribute(2, "y", Y);
        builder.AddAttribute(3, "class", Class);
        builder.AddContent(4, Words);
        builder.CloseElement();
    }
}
