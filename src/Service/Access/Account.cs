using Microsoft.AspNetCore.Identity;

namespace Farberth.Service.Access;

/// <summary>Somebody who can sign in.</summary>
public sealed class Account : IdentityUser;
