namespace Farberth.Tree.Tests.CSharp;

/// <summary>The scanners that the other tests rest on, against C# whose parts are known.</summary>
public class ScanTests
{
    [Theory]
    [InlineData("a /* { */ b", "a         b")]
    [InlineData("a // {\nb", "a     \nb")]
    [InlineData("#region {\nb", "         \nb")]
    [InlineData("f(\"{\\\"\", '{');", "f(     ,    );")]
    [InlineData("f($\"{(x ? \"}\" : \"{\")}{{\");", "f(                      );")]
    [InlineData("f(@\"\"\"{\", y);", "f(      , y);")]
    [InlineData("f(\"\"\"{ \"x\" {\"\"\", y);", "f(             , y);")]
    [InlineData("@class", "@class")]
    public void Comments_and_strings_are_blanked_with_all_their_braces(string source, string code) =>
        Assert.Equal(code, CodeText.Of(source));

    [Fact]
    public void Members_are_found_with_their_kinds_and_lines()
    {
        const string Source = """
            using System;
            namespace A;
            /// <summary>{</summary>
            public sealed record P(int X = 1) : Q;
            enum E { A = 1, B }
            static partial class C<T>
                where T : struct
            {
                static readonly int[] Table = [1, 2];
                static int count;
                public int Auto { get; private set; } = 3;
                public int Arrow => count switch { 1 => 2, _ => 3 };
                public static bool operator ==(C<T> a, C<T> b) => true;
                [Fact]
                public T Method<U>(U u)
                    where U : class
                {
                    if (u == null) { return default; }
                    return new() { };
                }
                struct Inner { public int Get { get { return 1; } } }
            }
            """;
        var found = MemberScan.Of(Source).Select(member => $"{member.Kind} {member.FirstLine}-{member.LastLine}");
        Assert.Equal(
            [
                "Other 1-1", "Type 2-2", "Type 4-4", "Type 5-5", "Other 5-5", "Type 6-8", "Other 9-9", "Other 10-10", "Other 11-11",
                "Function 12-12", "Function 13-13", "Function 14-20", "Type 21-21", "Function 21-21",
            ],
            found);
    }
}
