namespace Farberth.Monitoring.Forecast;

/// <summary>One quantity of a dock: its past, what was unusual in it, and what was expected of it.</summary>
/// <param name="assumedSd">Of its forecasts before their errors have been seen.</param>
/// <param name="issuedDays">How long forecasts are kept.</param>
/// <param name="enoughWeight">Errors of so much weight make the assumed spread needless; a day has about 4.</param>
sealed class Series(double assumedSd, int issuedDays, double enoughWeight)
{
    readonly WeightedSample sample = new();
    readonly double[] centres = new double[Quarters.Ahead.Count];
    bool hasEverBeen;
    long lookedBackAt = long.MinValue;

    public QuarterRing Values { get; } = new();

    public Residuals Residuals { get; } = new();

    public Issued Issued { get; } = new(issuedDays);

    /// <summary>What is expected at each horizon of <see cref="Quarters.Ahead"/>.</summary>
    public Span<double> Centres => centres;

    /// <summary>How much of the spread comes from its own errors, 0 to 1.</summary>
    public double LearnedShare { get; private set; }

    /// <summary>Takes in a quarter that has ended.</summary>
    /// <param name="value">NaN: unknown.</param>
    public void Close(long quarter, double value, OutdoorAir air, DayOfWeek day, double slopeShare)
    {
        var usual = Profile.At(Values, air.Cooling, quarter, day, air.Cooling[quarter], slopeShare).Mean;
        Values.Add(quarter, value);
        hasEverBeen |= value > 0;
        Residuals.Add(quarter, value - usual);
    }

    /// <summary>Puts what is expected into <see cref="Centres"/>: the usual and what is left of the unusual.</summary>
    public void Expect(long now, IReadOnlyList<double> degrees, IReadOnlyList<DayOfWeek> days, OutdoorAir air, Nowcast nowcast, Func<int, double> slopeShare)
    {
        if (!hasEverBeen)
        {
            Array.Clear(centres);
            return;
        }
        var recent = Values.Mean(now - Quarters.PerHour + 1, now, Values.Mean(now - Quarters.PerDay, now, 0));
        for (var at = 0; at < centres.Length; at++)
        {
            var profile = Profile.At(Values, air.Cooling, now + Quarters.Ahead[at], days[at], degrees[at], slopeShare(at));
            var warmer = degrees[at] - air.Cooling[now];
            centres[at] = double.IsNaN(profile.Mean)
                ? recent * (1 + slopeShare(at) * (double.IsNaN(warmer) ? 0 : warmer))
                : profile.Mean + nowcast.Residual(Residuals, now, at);
        }
    }

    /// <summary>The centre and the errors that such forecasts have had.</summary>
    public Quantiles ByErrors(long now, int horizon)
    {
        LookBack(now, state: false);
        sample.Clear();
        for (var i = 0; i < Issued.Alike.Count; i++)
        {
            var (row, made, weight) = Issued.Alike[i];
            sample.Add(Values[made + Quarters.Ahead[horizon]] - Issued.Expected(row, horizon), weight);
        }
        LearnedShare = FillUp(sample, 0);
        return sample.Quantiles().Each(error => centres[horizon] + error);
    }

    /// <summary>What really came when about the same was expected: right for an outlet, which draws much or nothing.</summary>
    /// <param name="bandwidth">Forecasts that differ by so much are half alike.</param>
    public Quantiles ByOutcomes(long now, int horizon, bool state, double bandwidth)
    {
        LookBack(now, state);
        sample.Clear();
        for (var i = 0; i < Issued.Alike.Count; i++)
        {
            var (row, made, weight) = Issued.Alike[i];
            var apart = (Issued.Expected(row, horizon) - centres[horizon]) / bandwidth;
            sample.Add(Values[made + Quarters.Ahead[horizon]], weight * Math.Exp(-apart * apart / 2));
        }
        LearnedShare = FillUp(sample, centres[horizon]);
        return sample.Quantiles();
    }

    /// <summary>Once for all horizons.</summary>
    public void LookBack(long now, bool state)
    {
        if (now == lookedBackAt)
            return;
        Issued.LookBack(now, state);
        lookedBackAt = now;
    }

    /// <summary>What its own errors do not yet show, normal about a centre.</summary>
    /// <returns>How much they show, 0 to 1.</returns>
    public double FillUp(WeightedSample errors, double centre)
    {
        var learned = Math.Min(1, errors.Weight / enoughWeight);
        errors.FillUp(enoughWeight, centre, assumedSd);
        return learned;
    }

    public SeriesMemory Memory() => new(hasEverBeen, LearnedShare, Values.Memory(), Residuals.Memory(), Issued.Memory());

    public void Resume(SeriesMemory memory)
    {
        (hasEverBeen, LearnedShare) = (memory.HasEverBeen, memory.LearnedShare);
        Values.Resume(memory.Values);
        Residuals.Resume(memory.Residuals);
        Issued.Resume(memory.Issued);
    }
}

sealed record SeriesMemory(
    bool HasEverBeen, double LearnedShare, QuarterRingMemory Values, ResidualsMemory Residuals, IssuedMemory Issued);
