using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;

namespace Farberth.Cli.Commands;

/// <summary>Arguments and options that several commands share, so that they read alike.</summary>
static class Arguments
{
    public static Argument<string> Site() => new("SITE") { Description = "The site file (YAML)." };

    public static Option<bool> Json() => new("--json") { Description = "Print for machines." };

    /// <param name="isServed">With a certificate other machines may reach it; a demo is for this machine only.</param>
    public static Option<Uri> Http(bool isServed = false) => new("--http")
    {
        Description = "Where the pages are served; port 0 takes any free one. "
            + (isServed ? "https with --certificate for other machines, else this machine only." : "This machine only."),
        HelpName = "URL",
        DefaultValueFactory = _ => new Uri("http://127.0.0.1:8470"),
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            if (Uri.TryCreate(text, UriKind.Absolute, out var url) && (url.Scheme == Uri.UriSchemeHttp && url.IsLoopback || isServed && url.Scheme == Uri.UriSchemeHttps))
                return url;
            result.AddError($"--http must be a plain http address of this machine, as http://127.0.0.1:8470, not '{text}'."
                + (isServed ? " For other machines: https, with --certificate." : ""));
            return null;
        },
    };

    /// <summary>A number from one to another; all else is wrong usage. For a custom parser: the library's own throws where a validator asks.</summary>
    public static double Number(ArgumentResult result, double least, double most) =>
        double.TryParse(result.Tokens[0].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out var given) && given >= least && given <= most
            ? given : Wrong(result, $"must be {least} to {most}");

    /// <inheritdoc cref="Number"/>
    public static int Whole(ArgumentResult result, int least, int most) =>
        int.TryParse(result.Tokens[0].Value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var given) && given >= least && given <= most
            ? given : Wrong(result, $"must be a whole number from {least} to {most}");

    static int Wrong(ArgumentResult result, FormattableString what)
    {
        result.AddError($"{(result.Parent as OptionResult)?.Option.Name} {FormattableString.Invariant(what)}");
        return 0;
    }
}
