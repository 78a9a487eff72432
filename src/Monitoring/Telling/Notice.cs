using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;

namespace Farberth.Monitoring.Telling;

/// <summary>What somebody is told at once: one event, or several that were held back.</summary>
/// <param name="Id">The same for the same notice, so that one that comes twice can be recognised.</param>
/// <param name="Priority">The highest of its events.</param>
/// <param name="Headline">One line: what is wrong.</param>
/// <param name="Text">Plain text, lines at line feeds.</param>
/// <param name="Caution">Stands at the end, wherever there is room; null where nothing tells of a hazard.</param>
/// <param name="Events">At least one.</param>
public sealed record Notice(
    string Site, string Id, DateTimeOffset At, Priority Priority, string Headline, string Text, string? Caution, IReadOnlyList<JournalEvent> Events)
{
    /// <summary>How high priority is said in the reader's language.</summary>
    public string High { get; init; } = "high";

    /// <summary>How he is told nothing more; null: staff, whom the file of settings names.</summary>
    public WayOut? WayOut { get; init; }
}

/// <summary>How somebody is told nothing more.</summary>
/// <param name="Address">A page that asks once more, and that a mail program may post to (RFC 8058); or "mailto:…".</param>
/// <param name="Sentence">With the address in it; stands last.</param>
/// <param name="Button">A few words, where there is a button to press.</param>
public sealed record WayOut(Uri Address, string Sentence, string Button);
