using System.Text.RegularExpressions;

namespace Farberth.Tree.Tests.CSharp;

/// <summary>Splits a file into members by braces and semicolons. No compiler: it knows only what this repository writes.</summary>
sealed partial class MemberScan
{
    readonly string code;
    readonly List<Member> members = [];

    MemberScan(string code) => this.code = code;

    public static IReadOnlyList<Member> Of(string source)
    {
        var scan = new MemberScan(CodeText.Of(source));
        scan.ReadBody(0);
        return scan.members;
    }

    /// <summary>Reads members up to the brace that closes this body; returns the place after it.</summary>
    int ReadBody(int at)
    {
        while (true)
        {
            while (at < code.Length && (char.IsWhiteSpace(code[at]) || code[at] == ';'))
                at++;
            if (at >= code.Length || code[at] == '}')
                return at + 1;
            at = ReadMember(at);
        }
    }

    int ReadMember(int start)
    {
        var headEnd = Find(start, at => code[at] is '{' or ';' or '}' || (code[at] == '=' && !IsOperator(at)));
        var head = code[start..headEnd].Trim();
        if (IsType().IsMatch(head))
        {
            members.Add(new(MemberKind.Type, head, "", Line(start), Line(headEnd)));
            return At(headEnd) == '{' ? ReadBody(headEnd + 1) : headEnd + 1;
        }
        var end = EndOfBody(headEnd);
        var body = code[headEnd..end];
        var runs = body.StartsWith("=>", StringComparison.Ordinal) || (body.StartsWith('{') && !AutoAccessors().IsMatch(body));
        members.Add(new(runs ? MemberKind.Function : MemberKind.Other, head, body, Line(start), Line(end - 1)));
        return end;
    }

    int EndOfBody(int headEnd)
    {
        var valueEnd = (int from) => Find(from, at => code[at] is ';' or '}') is var end && At(end) == ';' ? end + 1 : end;
        if (At(headEnd) != '{')
            return valueEnd(headEnd);
        var end = Find(headEnd + 1, at => code[at] == '}') + 1;
        var next = end;
        while (char.IsWhiteSpace(At(next)))
            next++;
        return At(next) == '=' ? valueEnd(next) : Math.Min(end, code.Length);
    }

    /// <summary>The first place from here on, outside all brackets that open meanwhile, where the test holds.</summary>
    int Find(int from, Func<int, bool> test)
    {
        var depth = 0;
        for (var at = from; at < code.Length; at++)
        {
            if (depth == 0 && test(at))
                return at;
            depth += code[at] switch { '{' or '(' or '[' => 1, '}' or ')' or ']' => -1, _ => 0 };
        }
        return code.Length;
    }

    /// <summary>Whether this sign belongs to the name of an operator, as in "operator ==".</summary>
    bool IsOperator(int at) => code[Math.Max(0, at - 10)..at].Contains("operator", StringComparison.Ordinal);

    char At(int at) => at < code.Length ? code[at] : '\0';

    int Line(int at) => code.AsSpan(0, Math.Min(at, code.Length)).Count('\n') + 1;

    [GeneratedRegex(@"(^|\s)(namespace|class|struct|interface|enum|record)\s+[A-Za-z_@]")]
    private static partial Regex IsType();

    /// <summary>{ get; }, { get; set; } and their like: nothing of their own to run.</summary>
    [GeneratedRegex(@"^\{(\s*(private|protected|internal)?\s*(get|set|init|add|remove)\s*;)+\s*\}")]
    private static partial Regex AutoAccessors();
}
