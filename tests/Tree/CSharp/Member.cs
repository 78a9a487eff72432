namespace Farberth.Tree.Tests.CSharp;

enum MemberKind
{
    /// <summary>A type or a namespace; the members of its body follow by themselves.</summary>
    Type,

    /// <summary>Anything with statements or an arrow: methods, constructors, operators, properties.</summary>
    Function,

    /// <summary>A field, a property without a body of its own, a using, the values of an enumeration.</summary>
    Other,
}

/// <param name="Head">From its attributes and modifiers up to its body or value.</param>
/// <param name="Body">Its body or value with the first sign; empty for a type.</param>
sealed record Member(MemberKind Kind, string Head, string Body, int FirstLine, int LastLine)
{
    public int Lines => LastLine - FirstLine + 1;
}
