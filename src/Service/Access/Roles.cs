namespace Farberth.Service.Access;

/// <summary>What an account may be. Somebody may be several.</summary>
public static class Roles
{
    /// <summary>Sees everything, changes nothing.</summary>
    public const string Viewer = "viewer";

    public const string Harbormaster = "harbormaster";

    public const string Electrician = "electrician";

    /// <summary>Decides who else has an account.</summary>
    public const string Administrator = "administrator";

    public static readonly IReadOnlyList<string> All = [Viewer, Harbormaster, Electrician, Administrator];
}
