using System.CommandLine;

namespace Farberth.Cli.Commands;

/// <summary>Arguments and options that several commands share, so that they read alike.</summary>
static class Arguments
{
    public static Argument<string> Site() => new("SITE") { Description = "The site file (YAML)." };

    public static Option<bool> Json() => new("--json") { Description = "Print for machines." };


    public static Option<Uri> Http() => new("--http")
    {
        Description = "Where the web page is served; port 0 takes any free one. This machine only.",
        HelpName = "URL",
        DefaultValueFactory = _ => new Uri("http://127.0.0.1:8470"),
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            if (Uri.TryCreate(text, UriKind.Absolute, out var url) && url.Scheme == Uri.UriSchemeHttp && url.IsLoopback)
                return url;
            result.AddError($"--http must be a plain http address of this machine, as http://127.0.0.1:8470, not '{text}'. "
                + "The page has no login: to show it elsewhere, put a web server with one in front of it.");
            return null;
        },
    };
}
