using Farberth.Grid.Network;

namespace Farberth.Monitoring.Telemetry;

/// <summary>Where in a payload something stands; made into words only when it is at fault.</summary>
readonly record struct Place(string Member, Leg? Leg = null, string? Outlet = null)
{
    public override string ToString() =>
        (Outlet is null ? "" : $"outlet {Outlet}: ") + Member + (Leg is null ? "" : $" of {Leg}");
}

/// <summary>Collects what is wrong with one message, up to <see cref="Most"/> faults.</summary>
sealed class Faults(WireMessage message, DateTimeOffset now)
{
    /// <summary>A message can hold thousands of faults; those past this many are not listed.</summary>
    public const int Most = 100;

    List<Refusal>? refusals; // of most messages nothing is wrong
    HashSet<string>? members;
    ReadOnlyMemory<byte> excerpt;

    /// <summary>All faults so far, also those past the limit: a part is good when this did not grow over it.</summary>
    public int Count { get; private set; }

    public IReadOnlyList<Refusal> Refusals => refusals ?? (IReadOnlyList<Refusal>)[];

    public void Add(RefusalReason reason, Place place, string problem)
    {
        if (place.Outlet is null)
            (members ??= []).Add(place.Member);
        Add(reason, $"{place} {problem}");
    }

    public void Add(RefusalReason reason, string detail)
    {
        Count++;
        refusals ??= [];
        if (refusals.Count == Most)
            return;
        if (refusals.Count == Most - 1)
            detail += "; further faults of this message are not listed";
        if (excerpt.IsEmpty)
            excerpt = message.Payload[..Math.Min(message.Payload.Length, Refusal.ExcerptBytes)].ToArray();
        refusals.Add(new Refusal(now, reason, Refusal.Cut(message.Topic), Refusal.Cut(detail), excerpt));
    }

    /// <summary>Adds that a required member is not there, unless another fault has told about that member.</summary>
    public void AddMissing(string member)
    {
        if (members?.Contains(member) != true)
            Add(RefusalReason.Missing, new Place(member), "is required and missing");
    }
}
