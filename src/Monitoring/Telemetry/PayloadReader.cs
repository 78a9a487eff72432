using System.Text.Json;

namespace Farberth.Monitoring.Telemetry;

/// <summary>
/// Walks one payload, member by member; what is no JSON throws a <see cref="JsonException"/>. A value of the wrong type becomes a fault and is
/// stepped over; a null counts as left out. Where a member stands twice its last one wins.
/// </summary>
ref struct PayloadReader(ReadOnlySpan<byte> json, Faults faults)
{
    Utf8JsonReader reader = new(json, new JsonReaderOptions { MaxDepth = JsonText.DeepestMessage });

    public readonly Faults Faults { get; } = faults;

    /// <summary>Name of the member the reader stands on.</summary>
    public readonly string Name => reader.GetString()!;

    public readonly bool Is(ReadOnlySpan<byte> name) => reader.ValueTextEquals(name);

    /// <summary>Steps into the object that comes next; false, with a fault, where something else stands there.</summary>
    public bool EnterObject(Place place) => Enter(JsonTokenType.StartObject, place, "must be an object");

    public bool EnterArray(Place place) => Enter(JsonTokenType.StartArray, place, "must be an array");

    /// <summary>Moves to the next member of the object; false at its end.</summary>
    public bool NextMember() => reader.Read() && reader.TokenType == JsonTokenType.PropertyName;

    /// <summary>Steps into the next element of an array of objects; null at the array's end, false for another type.</summary>
    public bool? NextObject(Place place)
    {
        reader.Read();
        if (reader.TokenType == JsonTokenType.EndArray)
            return null;
        return reader.TokenType == JsonTokenType.StartObject || Wrong(place, "must be an object");
    }

    /// <summary>Checks what is left.</summary>
    public void ReadToEnd()
    {
        while (reader.Read())
        {
        }
    }

    public void SkipValue()
    {
        reader.Read();
        reader.Skip();
    }

    /// <summary>A finite number, or null with a fault.</summary>
    public double? Number(Place place)
    {
        if (!Next(JsonTokenType.Number, place, "must be a number"))
            return null;
        if (reader.TryGetDouble(out var value) && double.IsFinite(value))
            return value;
        Faults.Add(RefusalReason.NotFinite, place, "is not a finite number");
        return null;
    }

    /// <summary>A number that the quantity can have, or null with a fault.</summary>
    public double? Number(Place place, Plausible range, RefusalReason outside = RefusalReason.OutOfRange)
    {
        if (Number(place) is not { } value)
            return null;
        if (range.Holds(value))
            return value;
        if (range.Lowest == 0 && value < 0)
            Faults.Add(RefusalReason.Negative, place, "is negative");
        else
            Faults.Add(outside, place, FormattableString.Invariant($"is {value}, not from {range.Lowest} to {range.Highest}"));
        return null;
    }

    public long? Integer(Place place)
    {
        if (!Next(JsonTokenType.Number, place, "must be a whole number"))
            return null;
        if (reader.TryGetInt64(out var value))
            return value;
        Wrong(place, "must be a whole number");
        return null;
    }

    public bool? Flag(Place place)
    {
        reader.Read();
        if (reader.TokenType is JsonTokenType.True or JsonTokenType.False)
            return reader.GetBoolean();
        if (reader.TokenType != JsonTokenType.Null)
            Wrong(place, "must be true or false");
        return null;
    }

    public string? Text(Place place) =>
        Next(JsonTokenType.String, place, "must be a string") ? reader.GetString() : null;

    /// <summary>A point in time, UTC.</summary>
    public DateTimeOffset? Time(Place place)
    {
        if (!Next(JsonTokenType.String, place, "must be a string"))
            return null;
        if (!Instant.TryRead(ref reader, out var time))
            Wrong(place, "must be a time as in RFC 3339, with an offset or Z");
        else if (time < Plausible.EarliestTime)
            Faults.Add(RefusalReason.OutOfRange, place, "is before 1970");
        else
            return time;
        return null;
    }

    bool Enter(JsonTokenType start, Place place, string problem) => Next(start, place, problem);

    // Moves to the next value: true when it is of the wanted type, false when it is null or, with a fault, another type.
    bool Next(JsonTokenType wanted, Place place, string problem)
    {
        reader.Read();
        if (reader.TokenType == wanted)
            return true;
        return reader.TokenType != JsonTokenType.Null && Wrong(place, problem);
    }

    bool Wrong(Place place, string problem)
    {
        Faults.Add(RefusalReason.WrongType, place, problem);
        reader.Skip();
        return false;
    }
}
