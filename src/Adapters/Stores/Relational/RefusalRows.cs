using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>Refusals by reason, as rows.</summary>
static class RefusalRows
{
    public static void Add(SqlSession session, RefusalsMore more) => session.Execute(
        """
        INSERT INTO refusals (site, reason, count, at_ms, topic, detail, excerpt)
        VALUES (@site, @reason, @count, @at, @topic, @detail, @excerpt)
        ON CONFLICT (site, reason) DO UPDATE SET count = refusals.count + excluded.count, at_ms = excluded.at_ms,
          topic = excluded.topic, detail = excluded.detail, excerpt = excluded.excerpt
        """,
        ("reason", more.Reason.Lower()), ("count", more.Count), ("at", more.Last.At.Milliseconds()), ("topic", more.Last.Topic),
        ("detail", more.Last.Detail), ("excerpt", more.Last.Excerpt.ToArray()));

    public static SortedDictionary<RefusalReason, RefusalTally> All(SqlSession session) => new(session.Query(
        "SELECT reason, count, at_ms, topic, detail, excerpt FROM refusals WHERE site = @site",
        row => new RefusalTally(row.GetInt64(1), new Refusal(
            row.Time(2), row.Choice<RefusalReason>(0), row.GetString(3), row.GetString(4), row.GetFieldValue<byte[]>(5))))
        .ToDictionary(tally => tally.Last.Reason));
}
