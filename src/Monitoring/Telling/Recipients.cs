using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Telling;

/// <summary>
/// Who is told what: an alarm when it is raised, gets worse or is over, to those it is for; what staff put aside, to the rest of the
/// staff; a request, to the boater of the slip. A boater hears only of what concerns his own slip, and only while he lies there.
/// A consequence that is suppressed and an acknowledgement are told to nobody: they stand in the lists.
/// </summary>
public sealed class Recipients(SiteDefinition site)
{
    const Audience Staff = Audience.Electrician | Audience.Harbormaster;

    readonly IReadOnlyList<SlipPlace> places =
    [
        .. from dock in site.Docks.Values
           let tree = new DockTree(dock)
           from slip in tree.OutletsOfSlips
           select SlipPlace.Of(dock, tree, slip.Slip),
    ];

    readonly Dictionary<string, Alarm> heldBack = [];

    /// <summary>Takes up where an earlier run has stopped.</summary>
    public void Restore(IEnumerable<AlarmTransition> standing)
    {
        foreach (var transition in standing)
            Remember(transition.Alarm);
    }

    /// <summary>One row for each person and channel.</summary>
    public JournalEntry Of(JournalEvent happened, IReadOnlyList<Contact> contacts)
    {
        var (audience, slips) = happened switch
        {
            AlarmStepped { Transition: var step } => (Called(step), Concerned(step.Alarm)),
            AdviceChanged { Change.Slip: var slip } => (Audience.Boater, [slip]),
            _ => (Audience.None, []),
        };
        return new(happened,
        [
            .. from contact in contacts
               where audience.HasFlag(contact.Role) && contact.Role != Audience.None
               where contact.Role != Audience.Boater || (contact.Slip is { } slip && slips.Contains(slip) && contact.Stay?.Covers(happened.At) != false)
               from address in contact.Addresses
               select new OutboxRow(happened, contact.Name, address.Channel),
        ]);
    }

    Audience Called(AlarmTransition step)
    {
        var alarm = step.Alarm;
        var before = heldBack.GetValueOrDefault(alarm.Id);
        Remember(alarm);
        var called = alarm.For & ~alarm.HeldBackFrom;
        if (step.From == alarm.State && before?.Message == alarm.Message && before.Priority == alarm.Priority)
            return called & before.HeldBackFrom; // a flood is over; the others have heard of it
        return alarm.State switch
        {
            AlarmState.Unacknowledged => called,
            AlarmState.ReturnedUnacknowledged or AlarmState.Normal when step.From.IsActive() => called,
            AlarmState.Shelved or AlarmState.OutOfService when step.From.IsActive() => called & Staff,
            _ => Audience.None,
        };
    }

    void Remember(Alarm alarm)
    {
        heldBack.Remove(alarm.Id);
        if (alarm.HeldBackFrom != Audience.None && alarm.State != AlarmState.Normal)
            heldBack[alarm.Id] = alarm;
    }

    HashSet<string> Concerned(Alarm alarm) => [.. places.Where(place => place.Concerns(alarm)).Select(place => place.Slip)];
}
