using System.Data.Common;
using System.Text;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>Statements within one transaction, on the rows of one site.</summary>
sealed class SqlSession(DbTransaction transaction, string site)
{
    public string Site => site;

    public int Execute(string sql, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = Command(sql, values);
        return command.ExecuteNonQuery();
    }

    /// <summary>The first column of the first row; null where there is none.</summary>
    public object? Scalar(string sql, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = Command(sql, values);
        return command.ExecuteScalar() is var value and not DBNull ? value : null;
    }

    public List<T> Query<T>(string sql, Func<DbDataReader, T> read, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = Command(sql, values);
        using var reader = command.ExecuteReader();
        var rows = new List<T>();
        while (reader.Read())
            rows.Add(read(reader));
        return rows;
    }

    DbCommand Command(string sql, ReadOnlySpan<(string Name, object? Value)> values)
    {
        var command = transaction.Connection!.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        Add(command, "site", site);
        foreach (var (name, value) in values)
            Add(command, name, value);
        return command;
    }

    static void Add(DbCommand command, string name, object? value)
    {
        var parameter = command.CreateParameter();
        (parameter.ParameterName, parameter.Value) = (name, value is string text ? Storable(text) : value ?? DBNull.Value);
        command.Parameters.Add(parameter);
    }

    /// <summary>PostgreSQL takes neither half a surrogate pair nor U+0000; what people wrote must not keep an alarm out of the journal.</summary>
    static string Storable(string text) => Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text)).Replace('\0', '\uFFFD');
}
