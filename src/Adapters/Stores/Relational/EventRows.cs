using System.Data.Common;
using System.Text;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Wire;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>What happened, as rows.</summary>
static class EventRows
{
    const string Alarm = "alarm", Advice = "advice";

    /// <summary>What <see cref="Read"/> reads, from its first column on.</summary>
    public const string Columns = "e.number, e.what, e.body, e.from_state, e.nth, e.dock";

    /// <summary>Number of columns of <see cref="Columns"/>.</summary>
    public const int Count = 6;

    /// <returns>The event's number; null: it is there already.</returns>
    public static long? Add(SqlSession session, JournalEvent happened)
    {
        var (what, from, body) = happened switch
        {
            AlarmStepped stepped => (Alarm, stepped.Transition.From.Word(), AlarmJson.Of(stepped.Transition)),
            AdviceChanged changed => (Advice, null, AdviceJson.Of(changed.Change)),
            _ => throw new ArgumentException($"an event of a kind that nobody knows: {happened}", nameof(happened)),
        };
        return session.Scalar(
            """
            INSERT INTO events (site, key, what, name, at_ms, from_state, state, nth, dock, slip, body)
            VALUES (@site, @key, @what, @name, @at, @from, @state, @nth, @dock, @slip, @body)
            ON CONFLICT (site, key) DO NOTHING RETURNING number
            """,
            ("key", happened.Key), ("what", what), ("name", happened.Name), ("at", happened.At.Milliseconds()), ("from", from),
            ("state", happened.State), ("nth", happened.Nth), ("dock", happened.Dock), ("slip", happened.Slip),
            ("body", Encoding.UTF8.GetString(body))) as long?;
    }

    /// <summary>The latest step of each alarm that is not normal.</summary>
    public static List<AlarmTransition> Standing(SqlSession session) => session.Query(
        $"""
        SELECT {Columns} FROM events e
        WHERE e.number IN (SELECT MAX(number) FROM events WHERE site = @site AND what = '{Alarm}' GROUP BY name) AND e.state <> 'normal'
        ORDER BY e.name
        """,
        row => ((AlarmStepped)Read(row)).Transition);

    /// <summary>The latest step of each alarm, and the latest of what was asked of each slip, before a moment; less what was over by then.</summary>
    public static List<JournalEvent> InForce(SqlSession session, DateTimeOffset before) => session.Query(
        $"""
        SELECT {Columns} FROM events e
        WHERE e.number IN (SELECT MAX(number) FROM events WHERE site = @site AND at_ms < @before GROUP BY what, name)
        AND e.state <> 'normal' AND e.state <> '{AdviceChanged.TakenBack}'
        ORDER BY e.what, e.name
        """,
        Read, ("before", before.Milliseconds()));

    public static JournalPage Page(SqlSession session, JournalQuery query)
    {
        var limit = Math.Clamp(query.Limit, 1, JournalQuery.LargestPage);
        List<(string Condition, string Name, object? Value)> asked =
        [
            ($"e.what = '{Alarm}' AND e.name = @name", "name", query.AlarmId),
            ("e.slip = @slip", "slip", query.Slip),
            ("e.dock = @dock", "dock", query.Dock),
            ("e.at_ms >= @from", "from", query.From?.Milliseconds()),
            ("e.at_ms < @to", "to", query.To?.Milliseconds()),
            ("e.number < @before", "before", query.Before),
        ];
        asked.RemoveAll(one => one.Value == null);
        // One more than a page tells whether there is another.
        var rows = session.Query(
            $"""
            SELECT {Columns} FROM events e WHERE {string.Join(" AND ", ["e.site = @site", .. asked.Select(one => one.Condition)])}
            ORDER BY e.number DESC LIMIT {limit + 1}
            """,
            row => (Number: row.GetInt64(0), Event: Read(row)), [.. asked.Select(one => (one.Name, one.Value))]);
        return new([.. rows.Take(limit).Select(row => row.Event)], rows.Count > limit ? rows[limit - 1].Number : null);
    }

    /// <summary>All but what stands and what is still to be told.</summary>
    public static int Forget(SqlSession session, DateTimeOffset before) => session.Execute(
        $"""
        DELETE FROM events WHERE site = @site AND at_ms < @before
        AND number NOT IN (SELECT event FROM outbox WHERE state = 'waiting')
        AND number NOT IN (SELECT MAX(number) FROM events WHERE site = @site AND what = '{Alarm}' GROUP BY name)
        """,
        ("before", before.Milliseconds()));

    public static JournalEvent Read(DbDataReader row) => row.GetString(1) == Alarm
        ? new AlarmStepped(AlarmJsonReader.Transition(row.GetString(2), AlarmJsonReader.State(row.GetString(3)))) { Nth = row.GetInt32(4) }
        : new AdviceChanged(AdviceJsonReader.Change(row.GetString(2)), row.GetString(5)) { Nth = row.GetInt32(4) };
}
