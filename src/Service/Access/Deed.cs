namespace Farberth.Service.Access;

/// <summary>Somebody did something that changes what others see or get. Written once, never changed.</summary>
/// <param name="Id">Counts up from 1; 0 before it is written.</param>
/// <param name="By">The account's name; "nobody" for an attempt without one.</param>
/// <param name="What">A verb and its object, as "shelve alarm".</param>
/// <param name="Which">Which one.</param>
/// <param name="Outcome">"done", or why not.</param>
public sealed record Deed(long Id, DateTimeOffset At, string By, string What, string Which, string Outcome);
