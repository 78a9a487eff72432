using Farberth.Monitoring.Ports;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>Whom an event is to be told, as rows.</summary>
static class OutboxRows
{
    public static void Add(SqlSession session, long happened, OutboxRow row) => session.Execute(
        """
        INSERT INTO outbox (event, contact, channel, state, attempts, next_ms, why)
        VALUES (@event, @contact, @channel, @state, @attempts, @next, @why) ON CONFLICT DO NOTHING
        """,
        [("event", happened), .. Values(row)]);

    public static void Update(SqlSession session, OutboxRow row) => session.Execute(
        """
        UPDATE outbox SET state = @state, attempts = @attempts, next_ms = @next, why = @why
        WHERE event = (SELECT number FROM events WHERE site = @site AND key = @key) AND contact = @contact AND channel = @channel
        """,
        [("key", row.Event.Key), .. Values(row)]);

    public static List<OutboxRow> Waiting(SqlSession session, int limit) => session.Query(
        $"""
        SELECT {EventRows.Columns}, o.contact, o.channel, o.attempts, o.next_ms, o.why FROM outbox o JOIN events e ON e.number = o.event
        WHERE e.site = @site AND o.state = 'waiting' ORDER BY e.number, o.contact, o.channel LIMIT {limit}
        """,
        row => new OutboxRow(EventRows.Read(row), row.GetString(EventRows.Count), row.Choice<Channel>(EventRows.Count + 1))
        {
            Attempts = row.GetInt32(EventRows.Count + 2),
            NextAttempt = row.TimeOrNull(EventRows.Count + 3),
            Why = row.TextOrNull(EventRows.Count + 4),
        });

    static (string, object?)[] Values(OutboxRow row) =>
    [
        ("contact", row.Contact), ("channel", row.Channel.Lower()), ("state", row.State.Lower()), ("attempts", row.Attempts),
        ("next", row.NextAttempt?.Milliseconds()), ("why", row.Why),
    ];
}
