using System.Reflection;
using Farberth.Service.Access;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Identity;

namespace Farberth.Service.Tests.Access;

public class AccountMistakesTests
{
    /// <summary>Found in the library itself, so that one which it learns to say with its next version is missed here.</summary>
    public static TheoryData<string> All => [.. typeof(IdentityErrorDescriber).GetMethods(BindingFlags.Public | BindingFlags.Instance).Where(method => method.ReturnType == typeof(IdentityError)).Select(method => method.Name)];

    [Theory, MemberData(nameof(All))]
    public void Whatever_is_wrong_with_an_account_is_said_in_both_languages(string code)
    {
        var (english, german) = (Said("en", code), Said("de", code));

        Assert.Equal((code, code), (english.Code, german.Code));
        Assert.NotEqual(english.Description, german.Description);
        Assert.NotEqual(Said(new IdentityErrorDescriber(), code).Description, english.Description);
    }

    static IdentityError Said(string language, string code) => Said(new AccountMistakes(WordBook.OfConsole(language)), code);

    static IdentityError Said(IdentityErrorDescriber by, string code)
    {
        var method = typeof(IdentityErrorDescriber).GetMethod(code)!;
        return (IdentityError)method.Invoke(by, [.. method.GetParameters().Select(parameter => parameter.ParameterType == typeof(int) ? (object)12 : "edda")])!;
    }
}
