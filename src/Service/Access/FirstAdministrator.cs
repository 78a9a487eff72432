using System.Security.Cryptography;
using System.Text;
using Farberth.Monitoring.Words;
using Microsoft.AspNetCore.Identity;

namespace Farberth.Service.Access;

/// <summary>
/// While nobody has an account, whoever knows the secret that this run has printed may make one: an administrator, once. The secret
/// is in no file; the next run has another.
/// </summary>
sealed class FirstAdministrator(bool isWanted) : IDisposable
{
    readonly byte[] secret = Encoding.ASCII.GetBytes(Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16)));
    readonly SemaphoreSlim oneAtATime = new(1);
    volatile bool isOpen = isWanted;

    public bool IsOpen => isOpen;

    /// <summary>Where to go; null: somebody has an account.</summary>
    public string? Path => isOpen ? $"/first?secret={Encoding.ASCII.GetString(secret)}" : null;

    public bool Knows(string? told) => isOpen && told is not null && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(told), secret);

    public async Task<IdentityResult> Make(UserManager<Account> accounts, string? told, string name, string password)
    {
        await oneAtATime.WaitAsync().ConfigureAwait(false);
        try
        {
            if (!Knows(told))
                return IdentityResult.Failed(new IdentityError { Description = Sentence.Of("This secret opens nothing.").English });
            var account = new Account { UserName = name };
            var made = await accounts.CreateAsync(account, password).ConfigureAwait(false);
            if (made.Succeeded)
            {
                await accounts.AddToRolesAsync(account, Roles.All).ConfigureAwait(false);
                isOpen = false;
            }
            return made;
        }
        finally
        {
            oneAtATime.Release();
        }
    }

    public void Dispose() => oneAtATime.Dispose();
}
