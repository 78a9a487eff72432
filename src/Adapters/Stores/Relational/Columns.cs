using System.Data.Common;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>How values stand in columns: times as milliseconds since 1970, words in lower case.</summary>
static class Columns
{
    public static long Milliseconds(this DateTimeOffset time) => time.ToUnixTimeMilliseconds();

    public static DateTimeOffset Time(this DbDataReader row, int column) => DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(column));

    public static DateTimeOffset? TimeOrNull(this DbDataReader row, int column) => row.IsDBNull(column) ? null : row.Time(column);

    public static string? TextOrNull(this DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    /// <summary>Of an enumeration whose words nobody else reads, without hyphens; alarms have words of their own.</summary>
    public static string Lower<T>(this T value) where T : struct, Enum => value.ToString().ToLowerInvariant();

    public static T Choice<T>(this DbDataReader row, int column) where T : struct, Enum => Enum.Parse<T>(row.GetString(column), ignoreCase: true);
}
