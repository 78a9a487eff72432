using System.CommandLine;
using System.CommandLine.Invocation;
using Farberth.Cli;
using Farberth.Cli.Commands;

var root = new RootCommand("Farberth watches the volts and amps along marina docks and says in time where it gets tight.")
{
    CheckCommand.Make(),
    RunCommand.Make(),
    RecordCommand.Make(),
    ReplayCommand.Make(),
    PlaceCommand.Make(),
    StudyCommand.Make(),
    SimulateCommand.Make(),
    DemoCommand.Make(),
};
var parsed = root.Parse(args);
if (parsed.Action is ParseErrorAction)
{
    foreach (var error in parsed.Errors)
        Console.Error.WriteLine(error.Message);
    Console.Error.WriteLine("Try 'farberth --help', or '--help' after the command.");
    return Exit.WrongUsage;
}
try
{
    // Commands catch what they expect; what they do not expect is a fault of this program and shows its stack.
    return await parsed.InvokeAsync(new InvocationConfiguration
    {
        EnableDefaultExceptionHandler = false,
        ProcessTerminationTimeout = TimeSpan.FromSeconds(10), // after Ctrl-C: time to put the best plan so far into words
    });
}
catch (CommandFailure failure)
{
    foreach (var line in failure.Lines)
        Console.Error.WriteLine(line);
    return failure.Status;
}
catch (OperationCanceledException)
{
    return Exit.Done;
}
