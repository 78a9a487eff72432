using System.Globalization;

namespace Farberth.Service.Words;

/// <summary>What is said to a person where it is not known yet in which language: English with gaps, and what stands in them.</summary>
/// <param name="English">The key of the other languages in the console's book.</param>
public sealed record Sentence(string English, IReadOnlyList<object> Parts)
{
    public static Sentence Of(string english, params object[] parts) => new(english, parts);

    /// <summary>With its moments as a reader writes them.</summary>
    public Sentence Written(Writing write) => With(write.DateAndTime);

    /// <summary>In English, for programs.</summary>
    public override string ToString() => string.Format(CultureInfo.InvariantCulture, English, [.. With(at => at.ToString("O", CultureInfo.InvariantCulture)).Parts]);

    Sentence With(Func<DateTimeOffset, string> moment) => this with { Parts = [.. Parts.Select(part => part is DateTimeOffset at ? moment(at) : part)] };
}
