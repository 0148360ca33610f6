using Lepidary.Science.Ground;

namespace Lepidary.Science.Charts;

/// <summary>One sample on a chart of shares.</summary>
/// <param name="Share">Share found.</param>
/// <param name="Lower">Lower limit for its size.</param>
/// <param name="Upper">Upper limit for its size.</param>
/// <param name="Z">Distance from the centre in standard errors of its size.</param>
public readonly record struct ShareChartPoint(double Share, double Lower, double Upper, double Z)
{
    /// <summary>Outside the limits.</summary>
    public bool IsOut => Share < Lower || Share > Upper;
}

/// <summary>
/// Shewhart's chart of shares (p-chart): losses by lot, with limits p̄ ± k·√(p̄(1-p̄)/n) for each lot's own size. Good for large jumps; for slow drifts see
/// <see cref="BernoulliCusum"/>.
/// </summary>
/// <param name="Centre">p̄.</param>
/// <param name="Points">One a sample, in the order given.</param>
public sealed record ShareChart(double Centre, IReadOnlyList<ShareChartPoint> Points)
{
    /// <summary>
    /// Laney's σ_z: the mean moving range of z over 1.128. Near 1 the samples differ as chance does; well above 1 the plain limits alarm too often, and
    /// limits should be this much wider (Laney 2002, Qual. Eng. 14:531-537; citation from memory).
    /// </summary>
    public double Dispersion
    {
        get
        {
            var range = 0.0;
            for (var i = 1; i < Points.Count; i++) range += Math.Abs(Points[i].Z - Points[i - 1].Z);
            return range / (Points.Count - 1) / 1.128;
        }
    }

    /// <summary>The chart, with the centre from the samples themselves.</summary>
    /// <param name="samples">Counted and size of each; 0 ≤ Counted ≤ Size, Size at least 1; at least one sample.</param>
    /// <param name="width">k, above 0: 3 is usual.</param>
    public static ShareChart Of(IReadOnlyList<(int Counted, int Size)> samples, double width = 3)
    {
        ArgumentNullException.ThrowIfNull(samples);
        if (samples.Count == 0) throw new ArgumentException("No samples.", nameof(samples));
        Check(samples);
        return Of(samples, samples.Sum(sample => (double)sample.Counted) / samples.Sum(sample => (double)sample.Size), width);
    }

    /// <summary>The chart, with a centre that is known.</summary>
    /// <param name="samples">As above; may be empty.</param>
    /// <param name="centre">0…1.</param>
    /// <param name="width">k, above 0.</param>
    public static ShareChart Of(IReadOnlyList<(int Counted, int Size)> samples, double centre, double width)
    {
        ArgumentNullException.ThrowIfNull(samples);
        Guard.Chance(centre);
        Guard.FinitePositive(width);
        Check(samples);
        return new(centre, [.. samples.Select(sample =>
        {
            var (counted, size) = sample;
            var (share, error) = ((double)counted / size, Math.Sqrt(centre * (1 - centre) / size));
            return new ShareChartPoint(
                share, Math.Max(0, centre - width * error), Math.Min(1, centre + width * error), error == 0 ? 0 : (share - centre) / error);
        })]);
    }

    private static void Check(IReadOnlyList<(int Counted, int Size)> samples)
    {
        foreach (var (counted, size) in samples)
            if (size < 1 || counted < 0 || counted > size) throw new ArgumentException($"{counted} of {size} is no sample.", nameof(samples));
    }
}
