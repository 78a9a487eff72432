using System.Globalization;
using System.Resources;
using Farberth.Monitoring.Words;

namespace Farberth.Service.Words;

/// <summary>
/// The words of some pages in one language, out of resource files in this folder. Two books have a key for each word: Boater and Writing, with
/// an English file and one a language beside it. In the console's, OfficeWords, English stands in the pages and is the key. Another language is
/// another file of each and its two letters in <see cref="Languages"/>.
/// </summary>
/// <remarks>Numbers and times are written by <see cref="Writing"/>: the program runs without the system's tables of cultures.</remarks>
public sealed class WordBook
{
    public static readonly IReadOnlyList<string> Languages = ["en", "de"];

    static readonly IReadOnlyDictionary<(string Book, string Language), WordBook> All =
        (from book in new[] { "Boater", "Writing", "OfficeWords" } from language in Languages select (book, language))
        .ToDictionary(one => one, one => new WordBook(one.book, one.language));

    readonly ResourceManager words;
    readonly CultureInfo culture;
    readonly bool isEnglishTheKey;
    readonly NumberFormatInfo numbers;

    WordBook(string book, string language)
    {
        (words, culture, isEnglishTheKey) = (new($"{typeof(WordBook).Namespace}.{book}", typeof(WordBook).Assembly), new(language), book == "OfficeWords");
        var decimals = new ResourceManager($"{typeof(WordBook).Namespace}.Writing", typeof(WordBook).Assembly).GetString("decimal", culture)!;
        numbers = new() { NumberDecimalSeparator = decimals, PercentDecimalSeparator = decimals, NegativeSign = "−" };
    }

    public string Language => culture.Name;

    /// <returns>The language of that name, as "de-AT" or "de"; null: there are no words for it.</returns>
    public static string? Known(string? name) =>
        Languages.FirstOrDefault(language => name?.Split('-')[0].Equals(language, StringComparison.OrdinalIgnoreCase) == true);

    /// <summary>Of what a boater reads.</summary>
    /// <param name="language">One of <see cref="Languages"/>.</param>
    public static WordBook OfBoater(string language) => All[("Boater", language)];

    /// <summary>Of numbers and times.</summary>
    internal static WordBook OfWriting(string language) => All[("Writing", language)];

    /// <summary>Of the console.</summary>
    public static WordBook OfConsole(string language) => All[("OfficeWords", language)];

    /// <exception cref="MissingManifestResourceException">There is no such word: a mistake of this program.</exception>
    public string this[string key] => isEnglishTheKey
        ? (Language == Languages[0] ? null : words.GetResourceSet(culture, createIfNotExists: true, tryParents: false)?.GetString(key)) ?? key
        : words.GetString(key, culture) ?? throw new MissingManifestResourceException($"no word for '{key}'");

    /// <summary>A sentence with parts, which are written as they are.</summary>
    public string this[string key, params object[] parts] => string.Format(CultureInfo.InvariantCulture, this[key], parts);

    /// <summary>With its moments as <see cref="Writing.Written"/> has made them, and its numbers as they are written in this language.</summary>
    public string this[Sentence said] => string.Format(numbers, this[said.English], [.. said.Parts.Select(part => part is Sentence within ? this[within] : part)]);

    /// <summary>Sentence after sentence; where they are not known one by one, as they were once written down.</summary>
    public string Of(IReadOnlyList<Sentence> said, string writtenDown) => said.Count == 0 ? writtenDown : string.Join(' ', said.Select(one => this[one]));
}
