namespace Farberth.Service.Loop;

/// <summary>How the intake's disk does.</summary>
/// <param name="Problem">What the disk says, as long as it takes nothing; empty while all is well.</param>
/// <param name="Since">When it began to, by the service's clock.</param>
/// <param name="Held">Messages taken that are not on disk yet: the broker keeps them too.</param>
/// <param name="Bytes">Of the log on disk.</param>
/// <param name="Unread">Bytes of the log that are not yet where they are going, such as the history.</param>
/// <param name="Lost">Messages that went because the log reached its bound before everybody had read them.</param>
public sealed record IntakeState(string Problem = "", DateTimeOffset? Since = null, int Held = 0, long Bytes = 0, long Unread = 0, long Lost = 0)
{
    public bool IsDurable => Problem.Length == 0;
}
