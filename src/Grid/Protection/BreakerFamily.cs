namespace Farberth.Grid.Protection;

/// <summary>The standard, and for IEC 60898 the type, to which a breaker is calibrated.</summary>
public enum BreakerFamily
{
    /// <summary>UL 489, thermal-magnetic, marked 40 °C.</summary>
    Ul489,
    Iec60898B,
    Iec60898C,
    Iec60898D,

    /// <summary>IEC 60947-2, thermal-magnetic, magnetic setting 10 × rating.</summary>
    Iec60947,
}

/// <summary>The words for breaker families in site files.</summary>
public static class BreakerFamilies
{
    /// <summary>In the order of the enumeration.</summary>
    public static IReadOnlyList<(string Word, BreakerFamily Family)> Words { get; } =
    [
        ("UL 489", BreakerFamily.Ul489),
        ("IEC 60898 B", BreakerFamily.Iec60898B),
        ("IEC 60898 C", BreakerFamily.Iec60898C),
        ("IEC 60898 D", BreakerFamily.Iec60898D),
        ("IEC 60947-2", BreakerFamily.Iec60947),
    ];

    public static string Word(this BreakerFamily family) => Words[(int)family].Word;
}
