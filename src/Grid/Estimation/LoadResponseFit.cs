namespace Farberth.Grid.Estimation;

// How a load's amps move with its volts, I ∝ V^n (+1 resistive, 0 constant current, −1 constant power), from steps of the
// volts that others have caused. Between two readings, x = ln(V₂/V₁) and y = ln(I₂/I₁):
//
//     y = n·x + e,     e: meter noise, and appliances of its own that switched meanwhile.
//
// Its appliances come and go on their own and not with the neighbours' steps, so they make e wide and not n wrong; and a
// wide e is rare. Each step counts by w = x²/σ² times min(1, k/|r|), r = (y − n·x)/σ (Huber, Robust Estimation of a
// Location Parameter, 1964; k = 1.5, from memory), with n as it stands. With the prior n₀ ± s₀,
//
//     n = (n₀/s₀² + Σ w·y/x) / (1/s₀² + Σ w),
//     sd = √(1/(1/s₀² + Σ w)) · max(1, χ),   χ² the weighted mean of r².
//
// σ is learned: 1.4826 times a running median of |y − n·x|, never under the meter's own. Steps fade with e^(−Δt/τ).

/// <summary>The learned response of one outlet to its volts. Mutable: it takes step after step.</summary>
/// <param name="assumed">n₀.</param>
/// <param name="assumedSd">s₀.</param>
public sealed class LoadResponseFit(double assumed, double assumedSd)
{
    const double Huber = 1.5;

    double weights;
    double weighted;
    double squares;
    double typicalMiss = double.NaN;

    double Assurance => 1 / (assumedSd * assumedSd);

    /// <summary>n.</summary>
    public double Response => (assumed * Assurance + weighted) / (Assurance + weights);

    /// <summary>One standard deviation of n.</summary>
    public double ResponseSd
    {
        get
        {
            var spread = Steps > 0 ? Math.Max(1, Math.Sqrt(squares / Steps)) : 1;
            return Math.Min(assumedSd, spread / Math.Sqrt(Assurance + weights));
        }
    }

    /// <summary>Steps taken, after fading.</summary>
    public double Steps { get; private set; }

    /// <param name="share">What is kept, e^(−Δt/τ).</param>
    public void Fade(double share)
    {
        weights *= share;
        weighted *= share;
        squares *= share;
        Steps *= share;
    }

    /// <param name="voltsStep">x = ln(V₂/V₁), not 0.</param>
    /// <param name="ampsStep">y = ln(I₂/I₁).</param>
    /// <param name="ampsNoise">The meter's own part of σ, as a share of the amps.</param>
    public void Add(double voltsStep, double ampsStep, double ampsNoise)
    {
        var miss = Math.Abs(ampsStep - Response * voltsStep);
        FollowMedian(miss, ampsNoise);
        var sd = Math.Max(ampsNoise, 1.4826 * typicalMiss);
        var share = miss <= Huber * sd ? 1 : Huber * sd / miss;
        var weight = share * voltsStep * voltsStep / (sd * sd);
        weights += weight;
        weighted += weight * ampsStep / voltsStep;
        squares += share * miss * miss / (sd * sd);
        Steps++;
    }

    /// <summary>A running median: a step of fixed share towards each new value, up as often as down.</summary>
    void FollowMedian(double miss, double ampsNoise)
    {
        if (double.IsNaN(typicalMiss))
            typicalMiss = ampsNoise;
        typicalMiss *= miss > typicalMiss ? 1.05 : 1 / 1.05;
        typicalMiss = Math.Max(typicalMiss, ampsNoise / 4);
    }

    public LoadResponseMemory Memory() => new(weights, weighted, squares, typicalMiss, Steps);

    /// <summary>Goes on from there.</summary>
    public void Resume(LoadResponseMemory memory) =>
        (weights, weighted, squares, typicalMiss, Steps) = (memory.Weights, memory.Weighted, memory.Squares, memory.TypicalMiss, memory.Steps);
}

/// <summary>All that <see cref="LoadResponseFit"/> remembers.</summary>
/// <param name="Weights">Σ w.</param>
/// <param name="Weighted">Σ w·y/x.</param>
/// <param name="Squares">Of the misses, in σ.</param>
/// <param name="TypicalMiss">Their running median; NaN before the first.</param>
/// <param name="Steps">After fading.</param>
public sealed record LoadResponseMemory(double Weights, double Weighted, double Squares, double TypicalMiss, double Steps);
