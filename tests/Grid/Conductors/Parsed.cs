using Farberth.Grid.Conductors;

namespace Farberth.Grid.Tests.Conductors;

/// <summary>Conductors by name, for tests that know they exist.</summary>
static class Parsed
{
    internal static Conductor Conductor(string text) =>
        Grid.Conductors.Conductor.TryParse(text, out var conductor, out var problem)
            ? conductor
            : throw new ArgumentException(problem, nameof(text));

    /// <summary>Sizes of the NEC, not those in mm².</summary>
    internal static bool IsNec(this Conductor conductor) => !conductor.AmpacityIsInterpolated;
}
