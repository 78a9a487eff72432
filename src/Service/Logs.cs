using System.Globalization;
using Serilog;
using Serilog.Configuration;
using Serilog.Core;
using Serilog.Events;
using Serilog.Formatting.Compact;

namespace Farberth.Service;

/// <summary>Where the service's log goes.</summary>
public static class Logs
{
    /// <summary>One line an event on standard error; standard output stays free for results.</summary>
    public static Logger ToConsole() => Unhurried(to => to.Console(
        standardErrorFromLevel: LogEventLevel.Verbose,
        formatProvider: CultureInfo.InvariantCulture,
        outputTemplate: "{Timestamp:yyyy-MM-ddTHH:mm:ss.fffzzz} {Level:u3} {Message:lj}{NewLine}{Exception}"));

    /// <summary>One JSON object an event on standard error, each with its properties by name, for programs that collect logs.</summary>
    public static Logger ToConsoleAsJson() => Unhurried(to => to.Console(new RenderedCompactJsonFormatter(), standardErrorFromLevel: LogEventLevel.Verbose));

    /// <summary>Nowhere, for a demo whose screen is taken.</summary>
    public static Logger Quiet() => new LoggerConfiguration().CreateLogger();

    static Logger Unhurried(Action<LoggerSinkConfiguration> behind) => new LoggerConfiguration()
        .MinimumLevel.Information()
        .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
        .Enrich.FromLogContext()
        .WriteTo.Sink(new UnhurriedLog(LoggerSinkConfiguration.CreateSink(behind)))
        .CreateLogger();
}
