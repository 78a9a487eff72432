using Farberth.Monitoring.Site.FileFormat;
using Farberth.Monitoring.Words;

namespace Farberth.Planning.Placement;

/// <summary>Every key of an arrivals file.</summary>
static class ArrivalsKeys
{
    public static readonly KeySet File = new("arrivals-file", ["arrivals"], ["present", "outdoor"]);

    public static readonly KeySet Arrival = new(
        "arrival", ["length", "beam", "draught", "power", "air-conditioners", "from", "until"], ["wishes"]);

    public static readonly KeySet Stay = new(
        "stay", ["until", "power", "air-conditioners", "length"], ["boat", "beam", "draught", "may-move"]);

    public static readonly KeySet Wishes = new("wishes", [], ["dock", "slips"]);
    public static readonly KeySet Cord = new("cord", ["rating"], ["legs", "neutral"]);
    public static readonly KeySet Outdoor = new("outdoor", ["high", "low"], ["days"]);
    public static readonly KeySet Day = new("day", ["high", "low"], []);

    public static readonly FileKind Kind = new(Sentence.Of("an arrivals file"), "'arrivals:' and a boat");

    public static readonly Expected Length = new(Sentence.Of("The length of a boat"), Dimension.Length, 2, 150, "38 ft");
    public static readonly Expected Beam = new(Sentence.Of("The beam of a boat"), Dimension.Length, 0.5, 40, "13 ft");
    public static readonly Expected Draught = new(Sentence.Of("The draught of a boat"), Dimension.Length, 0, 15, "5 ft");
    public static readonly Expected Rating = new(Sentence.Of("The rating of a cord"), Dimension.Current, 5, 800, "30 A");
    public static readonly Expected Celsius = new(Sentence.Of("The outdoor temperature"), Dimension.Temperature, -40, 55, "34 °C");
}
