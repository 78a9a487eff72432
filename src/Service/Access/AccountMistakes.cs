using System.Runtime.CompilerServices;
using Farberth.Monitoring.Words;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Identity;

namespace Farberth.Service.Access;

/// <summary>What ASP.NET Core Identity says against an account or a password, in the reader's language.</summary>
sealed class AccountMistakes(WordBook words) : IdentityErrorDescriber
{
    public override IdentityError DefaultError() => Say(Sentence.Of("That did not work."));

    public override IdentityError ConcurrencyFailure() => Say(Sentence.Of("Somebody else has changed it meanwhile. Look again."));

    public override IdentityError PasswordMismatch() => Say(Sentence.Of("The password is wrong."));

    public override IdentityError InvalidToken() => Say(Sentence.Of("That is not valid, or not any more."));

    public override IdentityError RecoveryCodeRedemptionFailed() => Say(Sentence.Of("That code opens nothing."));

    public override IdentityError LoginAlreadyAssociated() => Say(Sentence.Of("Another account signs in with that."));

    public override IdentityError InvalidUserName(string? userName) => Say(Sentence.Of("The name {0} is not possible: letters and digits without accents, and - . _ @ +.", userName ?? ""));

    public override IdentityError InvalidEmail(string? email) => Say(Sentence.Of("{0} is no e-mail address.", email ?? ""));

    public override IdentityError DuplicateUserName(string userName) => Say(Sentence.Of("There is an account named {0} already.", userName));

    public override IdentityError DuplicateEmail(string email) => Say(Sentence.Of("There is an account with {0} already.", email));

    public override IdentityError InvalidRoleName(string? role) => Say(Sentence.Of("There is no role {0}.", role ?? ""));

    public override IdentityError DuplicateRoleName(string role) => Say(Sentence.Of("There is a role {0} already.", role));

    public override IdentityError UserAlreadyHasPassword() => Say(Sentence.Of("The account has a password already."));

    public override IdentityError UserLockoutNotEnabled() => Say(Sentence.Of("The account cannot be locked."));

    public override IdentityError UserAlreadyInRole(string role) => Say(Sentence.Of("The account is {0} already.", role));

    public override IdentityError UserNotInRole(string role) => Say(Sentence.Of("The account is not {0}.", role));

    public override IdentityError PasswordTooShort(int length) => Say(Sentence.Of("The password has at least {0} characters.", length));

    public override IdentityError PasswordRequiresUniqueChars(int uniqueChars) => Say(Sentence.Of("The password has at least {0} different characters.", uniqueChars));

    public override IdentityError PasswordRequiresNonAlphanumeric() => Say(Sentence.Of("The password has a character that is neither letter nor digit."));

    public override IdentityError PasswordRequiresDigit() => Say(Sentence.Of("The password has a digit."));

    public override IdentityError PasswordRequiresLower() => Say(Sentence.Of("The password has a small letter."));

    public override IdentityError PasswordRequiresUpper() => Say(Sentence.Of("The password has a capital letter."));

    IdentityError Say(Sentence said, [CallerMemberName] string code = "") => new() { Code = code, Description = words[said] };
}
