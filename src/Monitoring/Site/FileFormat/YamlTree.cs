using Farberth.Monitoring.Words;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>A kind of file that people write, in words for messages.</summary>
/// <param name="Name">With its article, as "a site file".</param>
/// <param name="Start">What an empty one lacks.</param>
sealed record FileKind(Sentence Name, string Start)
{
    public static readonly FileKind Site = new(Sentence.Of("a site file"), "'site:', 'timezone:', 'supply:', 'docks:'");
}

/// <summary>
/// Turns YAML text into values with places. Built on the parser's events and not on the library's own node classes,
/// because those stop at the first duplicate key and would hide every mistake after it, and have no limit to nesting.
/// </summary>
sealed class YamlTree
{
    /// <summary>A site file needs 7 levels; the limit keeps a hostile file from exhausting the stack.</summary>
    const int DeepestNesting = 32;

    readonly IParser _events;
    readonly TextPlaces _places;
    readonly MistakeList _mistakes;
    readonly FileKind _file;

    YamlTree(IParser events, TextPlaces places, MistakeList mistakes, FileKind file) =>
        (_events, _places, _mistakes, _file) = (events, places, mistakes, file);

    /// <summary>The root value; null where the text is not YAML or holds nothing, which is then reported.</summary>
    /// <param name="file">What the text is, for messages.</param>
    public static YamlValue? Read(string text, MistakeList mistakes, FileKind file)
    {
        var parser = new Parser(new StringReader(text));
        var places = new TextPlaces(text);
        try
        {
            return new YamlTree(parser, places, mistakes, file).OnlyDocument();
        }
        catch (YamlException error)
        {
            var problem = error.Message.TrimEnd('.');
            mistakes.Add(places.Of(error.Start, ""), Sentence.Of("This is not valid YAML: {0}. Correct it; the rest is read only then.", problem));
        }
        catch (Exception error) when (error is InvalidOperationException or ArgumentException or EndOfStreamException)
        {
            // The library throws these for some broken flow mappings, tags and empty keys.
            var last = parser.Current?.End ?? Mark.Empty;
            mistakes.Add(places.Of(last, ""), Sentence.Of("This is not valid YAML from here on; look for a missing bracket or quote."));
        }
        return null;
    }

    YamlValue? OnlyDocument()
    {
        _events.Consume<StreamStart>();
        if (_events.Accept<StreamEnd>(out _))
        {
            _mistakes.Add(new(1, 1, ""), Sentence.Of("The file is empty; start with {0}.", _file.Start));
            return null;
        }
        _events.Consume<DocumentStart>();
        var root = Value("", null, 0);
        _events.Consume<DocumentEnd>();
        if (_events.TryConsume<DocumentStart>(out var second))
            _mistakes.Add(At(second, ""), Sentence.Of("A second YAML document begins here; {0} holds one. Remove this and what follows.", _file.Name));
        return root;
    }

    /// <param name="key">Place of the key that holds the value, if one does.</param>
    YamlValue Value(string path, Place? key, int depth)
    {
        if (_events.Accept<AnchorAlias>(out var alias))
            return Refuse(At(alias, path), Sentence.Of("'*{0}' is a YAML alias; {1} has none. Write the value out.", alias.Value, _file.Name));
        _events.Accept<NodeEvent>(out var start);
        if (start is null)
            throw new YamlException(_events.Current!.Start, _events.Current.End, "a value was expected here");
        if (!start.Tag.IsEmpty)
            _mistakes.Add(At(start, path), Sentence.Of("'{0}' is a YAML tag; {1} has none. Remove it.", $"{start.Tag}", _file.Name));
        if (_events.TryConsume<Scalar>(out var scalar))
            return Scalar(scalar, path, key);
        var at = key ?? At(start, path);
        if (depth == DeepestNesting)
            return Refuse(at, Sentence.Of("Lists and mappings are nested more than {0} deep; no part of {1} is.", DeepestNesting, _file.Name));
        return start is SequenceStart ? List(at, depth) : Map(at, depth);
    }

    YamlScalar Scalar(Scalar scalar, string path, Place? key)
    {
        var isPlain = scalar.Style is ScalarStyle.Plain;
        var at = At(scalar, path);
        return new(isPlain && scalar.Value.Length == 0 ? key ?? at : at, scalar.Value, isPlain);
    }

    YamlBroken Refuse(Place at, Sentence message)
    {
        _mistakes.Add(at, message);
        _events.SkipThisAndNestedEvents();
        return new YamlBroken(at);
    }

    YamlList List(Place at, int depth)
    {
        _events.Consume<SequenceStart>();
        var items = new List<YamlValue>();
        while (!_events.TryConsume<SequenceEnd>(out _))
            items.Add(Value($"{at.Path}[{items.Count}]", null, depth + 1));
        return new(at, items);
    }

    YamlMap Map(Place at, int depth)
    {
        _events.Consume<MappingStart>();
        var entries = new Dictionary<string, YamlEntry>();
        while (!_events.TryConsume<MappingEnd>(out _))
        {
            if (!_events.TryConsume<Scalar>(out var key))
            {
                Refuse(At(_events.Current!, at.Path), Sentence.Of("A key here is not a word; write 'key: value'."));
                _events.SkipThisAndNestedEvents();
                continue;
            }
            var keyAt = At(key, at.Path).Under(key.Value);
            var entry = new YamlEntry(keyAt, key.Value, Value(keyAt.Path, keyAt, depth + 1));
            if (!entries.TryAdd(key.Value, entry))
                _mistakes.Add(keyAt, Sentence.Of("'{0}' is written twice; the first is on line {1}. Keep one of the two.", key.Value, entries[key.Value].KeyAt.Line));
        }
        return new(at, [.. entries.Values]);
    }

    Place At(ParsingEvent parsed, string path) => _places.Of(parsed.Start, path);
}
