namespace Farberth.Grid.Conductors;

/// <summary>How far a number of a published table can be trusted.</summary>
public enum Mark
{
    /// <summary>Read in at least one copy of the table.</summary>
    Confirmed,

    /// <summary>Written from memory: open the standard before relying on it.</summary>
    FromMemory,

    /// <summary>Not printed for this size; taken between its neighbours.</summary>
    Interpolated,
}

/// <summary>Where a row of a table comes from.</summary>
/// <param name="Table">The standard and its table.</param>
/// <param name="Mark">How far to trust it.</param>
/// <param name="Seen">Which copies were read, or what is missing.</param>
public sealed record Origin(string Table, Mark Mark, string Seen);
