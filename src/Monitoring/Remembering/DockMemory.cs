using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Remembering;

/// <summary>
/// All that one dock's monitor remembers between two ticks. Each part's record stands beside the class that makes it and goes on from
/// it. What can be computed again from it to the last bit is not in it.
/// </summary>
/// <param name="Shape">Of the dock that it was learned on.</param>
/// <param name="Estimator">Null where the dock is another one now; so are some other parts.</param>
/// <param name="Commands">Taken since the last tick.</param>
/// <param name="Early">Null after a time in which nobody listened.</param>
sealed record DockMemory(
    DockShape Shape,
    DockInboxMemory Inbox,
    EstimatorMemory? Estimator,
    LearningMemory Learning,
    BreakersMemory Breakers,
    ContactsMemory Contacts,
    TransformerMemory? Transformer,
    ForecasterMemory? Forecaster,
    OutageMemory? Outages,
    AlarmBookMemory Alarms,
    AdviserMemory Adviser,
    IReadOnlyList<AlarmCommand> Commands,
    EarlyLookMemory? Early);
