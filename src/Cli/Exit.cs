namespace Farberth.Cli;

/// <summary>Exit statuses, the same for every command.</summary>
static class Exit
{
    public const int Done = 0;
    public const int BadInput = 1;
    public const int WrongUsage = 2;
    public const int OutsideFailed = 3;
}

/// <summary>Ends a command with its status and what it has to say on standard error.</summary>
sealed class CommandFailure(int status, IReadOnlyList<string> lines) : Exception(string.Join('\n', lines))
{
    public int Status => status;
    public IReadOnlyList<string> Lines => lines;

    public static CommandFailure BadInput(params IReadOnlyList<string> lines) => new(Exit.BadInput, lines);
    public static CommandFailure Usage(string line) => new(Exit.WrongUsage, [line]);
    public static CommandFailure Outside(string line) => new(Exit.OutsideFailed, [line]);
}
