using Farberth.Adapters.Mqtt;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>Where the long history goes and how it is sent.</summary>
public sealed record InfluxOptions(Uri Url, string Organization, string Bucket)
{
    /// <summary>May write to the bucket and nothing else.</summary>
    public string Token { get; init; } = "";

    /// <summary>Points in one request. InfluxDB's own advice is 5000 lines.</summary>
    public int MostLines { get; init; } = 5000;

    /// <summary>Of one request before compression.</summary>
    public int MostBytes { get; init; } = 1 << 20;

    /// <summary>What has come in this time goes out together.</summary>
    public TimeSpan BatchWithin { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>No answer in this time counts as away.</summary>
    public TimeSpan AnswerWithin { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>
    /// How long the server may take to bring to disk what it has confirmed. When it has been away, what it confirmed in this time
    /// before is sent once more. InfluxDB 2 writes its log ahead at once; others take some seconds.
    /// </summary>
    public TimeSpan SettledAfter { get; init; } = TimeSpan.FromSeconds(30);

    public Backoff Backoff { get; init; } = Backoff.Usual;

    /// <summary>Of the file of lines that the server did not take; later ones are only counted.</summary>
    public long MostSetAsideBytes { get; init; } = 1 << 20;

    /// <summary>Without the token.</summary>
    public override string ToString() => $"{Url} {Organization}/{Bucket}";
}
