namespace Farberth.Monitoring.Advice;

/// <summary>A plan with what it was made from.</summary>
sealed record PlannedShed(DateTimeOffset At, ShedPlan Plan, IReadOnlyList<Lever> Levers, IReadOnlyList<Askable> Askable);
