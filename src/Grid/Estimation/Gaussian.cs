namespace Farberth.Grid.Estimation;

/// <summary>
/// What a subtree says of two triples (x, k), in information form: −log p = ½·zᵀΛz − hᵀz + const, z = (x, k),
/// Λ = [[Xx, Xk], [Xkᵀ, Kk]], h = (Hx, Hk).
/// </summary>
readonly struct Message(Block xx, Block xk, Block kk, Triple hx, Triple hk)
{
    public readonly Block Xx = xx, Xk = xk, Kk = kk;
    public readonly Triple Hx = hx, Hk = hk;
}

/// <summary>Mean and covariance of two triples (x, k).</summary>
readonly struct Posterior(Triple x, Triple k, Block xx, Block xk, Block kk)
{
    public readonly Triple X = x, K = k;
    public readonly Block Xx = xx, Xk = xk, Kk = kk;
}

/// <summary>
/// A triple y that was eliminated given (x, k): y = Mean − Gx·x − Gk·k, with covariance S of what is left.
/// </summary>
readonly struct Elimination(Block s, Triple mean, Block gx, Block gk)
{
    readonly Block s = s, gx = gx, gk = gk;
    readonly Triple mean = mean;

    /// <summary>Eliminates y from Λ over (x, k, y): the Schur complement, and how y follows from the rest.</summary>
    public static Message Out(
        Message rest, in Block yy, in Block xy, in Block ky, Triple hy, out Elimination how)
    {
        var s = yy.Inverse();
        var (gx, gk) = (s * xy.Transposed, s * ky.Transposed);
        how = new(s, s * hy, gx, gk);
        return new(
            rest.Xx - xy * gx, rest.Xk - xy * gk, rest.Kk - ky * gk,
            rest.Hx - xy * how.mean, rest.Hk - ky * how.mean);
    }

    /// <summary>y and its covariances: with x, with k and with itself.</summary>
    public (Triple Y, Block Xy, Block Ky, Block Yy) Back(in Posterior p)
    {
        var y = mean - gx * p.X - gk * p.K;
        var xy = -(p.Xx * gx.Transposed + p.Xk * gk.Transposed);
        var ky = -(p.Xk.Transposed * gx.Transposed + p.Kk * gk.Transposed);
        return (y, xy, ky, s - gx * xy - gk * ky);
    }
}
