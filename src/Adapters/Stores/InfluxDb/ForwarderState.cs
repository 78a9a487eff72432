using Farberth.Adapters.Stores.Intake;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>How far the database has come, for health, metrics and people.</summary>
/// <param name="Settled">Everything before it is in the database for good: the log may let go of it.</param>
/// <param name="Sent">Everything before it has been confirmed.</param>
/// <param name="WaitingBytes">In the log behind <paramref name="Sent"/>.</param>
/// <param name="WaitingFor">Age of the oldest message that waits; zero where none does.</param>
/// <param name="Points">Confirmed since the program started; one sent again counts again.</param>
/// <param name="SetAside">Lines the server did not take, since the program started.</param>
/// <param name="MissedBytes">That the log let go of before they were sent, since the program started.</param>
/// <param name="Failures">Requests that have to be sent again, since the program started.</param>
/// <param name="Problem">Why the last request failed; empty after one that did not.</param>
public sealed record ForwarderState(
    LogPosition Settled, LogPosition Sent, long WaitingBytes, TimeSpan WaitingFor, long Points, long SetAside, long MissedBytes, long Failures, string Problem);
