using System.Globalization;
using System.Resources;

namespace Farberth.Service.Words;

/// <summary>
/// The words of one page in one language, out of its resource files in this folder: Boater.resx is English and what stands in for a
/// language that lacks a word, Boater.de.resx German. Another language is another file and its two letters in <see cref="Languages"/>.
/// </summary>
/// <remarks>Numbers and times are written by <see cref="Writing"/>: the program runs without the system's tables of cultures.</remarks>
public sealed class WordBook
{
    public static readonly IReadOnlyList<string> Languages = ["en", "de"];

    readonly ResourceManager words;
    readonly CultureInfo culture;

    WordBook(ResourceManager words, string language) => (this.words, culture) = (words, new(language));

    public string Language => culture.Name;

    /// <returns>The language of that name, as "de-AT" or "de"; null: there are no words for it.</returns>
    public static string? Known(string? name) =>
        Languages.FirstOrDefault(language => name?.Split('-')[0].Equals(language, StringComparison.OrdinalIgnoreCase) == true);

    /// <param name="page">The first part of the resource files' name.</param>
    /// <param name="language">One of <see cref="Languages"/>.</param>
    public static WordBook Of(string page, string language) => new(new($"{typeof(WordBook).Namespace}.{page}", typeof(WordBook).Assembly), language);

    /// <exception cref="MissingManifestResourceException">There is no such word: a mistake of this program.</exception>
    public string this[string key] => words.GetString(key, culture) ?? throw new MissingManifestResourceException($"no word for '{key}'");

    /// <summary>A sentence with parts, which are written as they are.</summary>
    public string Say(string key, params string[] parts) => string.Format(CultureInfo.InvariantCulture, this[key], parts);
}
