using System.CommandLine;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.PostgreSql;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;

namespace Farberth.Cli.Commands;

/// <summary>Where the journal is, and whom to tell.</summary>
sealed class JournalArguments
{
    readonly Option<string?> journal = new("--journal")
    {
        Description = "Keep the journal in PostgreSQL, in place of the data folder: \"Host=…;Database=…;Username=…\"; the password is read from PGPASSWORD or PGPASSFILE.",
        HelpName = "CONNECTION",
    };

    readonly Option<string?> notify = new("--notify") { Description = "Whom to tell and by what (YAML).", HelpName = "FILE" };

    public JournalArguments()
    {
        journal.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } text && Problem(text) is { } problem)
                result.AddError(problem);
        });
    }

    public void AddTo(Command command)
    {
        command.Add(journal);
        command.Add(notify);
    }

    public string? NotifyFile(ParseResult parsed) => parsed.GetValue(notify);

    /// <param name="dataFolder">For the journal where no database is named.</param>
    public IJournal Open(ParseResult parsed, SiteDefinition site, string dataFolder) => parsed.GetValue(journal) is { } connection
        ? new PostgresJournal(connection, site.Name) : new SqliteJournal(Path.Combine(dataFolder, "journal.sqlite"), site.Name);

    /// <summary>Every user of the machine can read a command line.</summary>
    static string? Problem(string connection)
    {
        try
        {
            var keys = new System.Data.Common.DbConnectionStringBuilder { ConnectionString = connection };
            if (keys.ContainsKey("Password") || keys.ContainsKey("Pwd"))
                return "--journal must not hold a password: set PGPASSWORD, or PGPASSFILE";
            new PostgresJournal(connection, "x").Dispose();
            return null;
        }
        catch (ArgumentException)
        {
            return "--journal must be a connection string, as \"Host=localhost;Database=farberth;Username=farberth\"";
        }
    }
}
