using System.Text.Json.Nodes;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms;

/// <summary>What a rule says of one place at one tick, whether bad or good: the lifecycle needs both.</summary>
/// <param name="Margin">How far past the limit, as a share of it; 0 or less: within the limit.</param>
/// <param name="AtOnce">Raise without waiting for the raise delay.</param>
/// <param name="Sharpness">How narrowly the cause is located; raised again when it is located more narrowly soon after.</param>
/// <param name="Describe">The words and numbers; asked for only when a transition needs them.</param>
public sealed record Finding(
    Place Place, double Margin, Priority Priority, Audience For, Func<Description> Describe, bool AtOnce = false,
    int Sharpness = 0)
{
    public bool IsPast => Margin > 0;

    /// <summary>A point of the feeder: while this finding's alarm holds, it explains others beyond that point. Null: it explains nothing.</summary>
    public string? Beyond { get; init; }

    /// <summary><see cref="Beyond"/> is known as well as it can be: an alarm that was raised with another point is raised again.</summary>
    public bool IsLocated { get; init; }

    /// <summary>It may come to be past its limit once all who can tell have spoken; what it would explain waits for that.</summary>
    public bool IsPending { get; init; }
}

/// <summary>A finding and the rule that made it.</summary>
readonly record struct Judged(AlarmKind Kind, Finding Finding);

/// <param name="Said">One sentence or some, each in English with gaps, so that a reader may have it in his language.</param>
public sealed record Description(IReadOnlyList<Sentence> Said, JsonObject Evidence)
{
    public string Message => string.Join(' ', Said);
}
