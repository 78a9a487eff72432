using Farberth.Monitoring.Forecast;

namespace Farberth.HotAfternoon.Tests.Forecast;

/// <summary>One kind of quantity (a dock's kVA, amps or volts, or its outlets): the forecast beside the two baselines.</summary>
sealed class Comparison(string name)
{
    readonly Score forecast = new();
    readonly Dictionary<string, Score> baselines = [];

    public double Held => forecast.Held;

    /// <summary>How much less the loss is than that of a baseline, as a share.</summary>
    public double Better(string baseline) => 1 - forecast.Loss / baselines[baseline].Loss;

    /// <summary>The least of them.</summary>
    public double BetterThanAll => baselines.Keys.Min(Better);

    public override string ToString() =>
        $"{name}: loss {forecast.Loss:F4}, held {Held:P1}; less than {string.Join(", ", baselines.Keys.Order().Select(key => $"{key} {Better(key):P1}"))}";

    public void Add(Dictionary<long, double> came, long now, int ahead, Quantiles said)
    {
        if (!came.TryGetValue(now + ahead, out var outcome))
            return;
        forecast.Add(said, outcome);
        foreach (var (key, baseline) in new[]
            { ("now", new Baseline(came, (made, _) => made)), ("yesterday", new Baseline(came, (made, ahead) => made + ahead - 96)) })
        {
            Add($"{key} as a point", baseline.Point(now, ahead), outcome);
            Add($"{key} with a fair band", baseline.Fair(now, ahead, canBeNegative: false), outcome);
        }
    }

    void Add(string key, Quantiles said, double outcome)
    {
        baselines.TryAdd(key, new());
        baselines[key].Add(said, outcome);
    }
}
