using System.Data.Common;
using System.Globalization;
using System.Reflection;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>
/// Numbered steps from an empty database to the schema of this version: 001-….sql, 002-….sql and so on, without a gap. A step that has
/// been released is never edited.
/// </summary>
public sealed class Migrations
{
    readonly string what;
    readonly IReadOnlyList<string> steps;

    Migrations(string what, IReadOnlyList<string> steps) => (this.what, this.steps) = (what, steps);

    /// <summary>Every step in a folder of an assembly's resources.</summary>
    /// <param name="what">What it is the schema of, for a person.</param>
    public static Migrations In(Assembly assembly, string folder, string what)
    {
        var names = assembly.GetManifestResourceNames().Where(name => name.StartsWith(folder + "/", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal).ToList();
        for (var index = 0; index < names.Count; index++)
            if (!names[index].StartsWith(string.Create(CultureInfo.InvariantCulture, $"{folder}/{index + 1:000}-"), StringComparison.Ordinal))
                throw new InvalidOperationException($"{names[index]} is not step {index + 1}");
        return new(what, [.. names.Select(name => new StreamReader(assembly.GetManifestResourceStream(name)!).ReadToEnd())]);
    }

    /// <summary>Applies what is missing. It belongs to the transaction that it is called in.</summary>
    /// <returns>The version that the schema now has: the number of steps.</returns>
    /// <exception cref="NewerSchemaException">The schema is newer than this program.</exception>
    public int Apply(DbTransaction transaction) => Apply(new SqlSession(transaction, ""));

    internal int Apply(SqlSession session)
    {
        session.Execute("CREATE TABLE IF NOT EXISTS schema_version (version INTEGER NOT NULL)");
        var version = Convert.ToInt32(session.Scalar("SELECT version FROM schema_version") ?? 0, CultureInfo.InvariantCulture);
        if (version > steps.Count)
            throw new NewerSchemaException(
                $"the schema of {what} is version {version}, and this program knows up to {steps.Count}: a newer version of it has been here; run that one");
        if (version == steps.Count)
            return version;
        foreach (var step in steps.Skip(version))
            session.Execute(step);
        session.Execute("DELETE FROM schema_version");
        session.Execute("INSERT INTO schema_version (version) VALUES (@version)", ("version", steps.Count));
        return steps.Count;
    }
}

/// <summary>A later version of this program has made the database.</summary>
public sealed class NewerSchemaException(string message) : IOException(message);
