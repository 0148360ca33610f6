using Lepidary.Science.Groups;

namespace Lepidary.Science.Emergence;

/// <summary>
/// The posterior of the mean rate and the lot concentration on a grid: the logit of the mean by the logarithm of the concentration. The grid is laid three times, each
/// time around what the one before found: wide, near, and six standard deviations.
/// </summary>
internal sealed class RatePosterior(EmergenceRate prior, LotLikelihood lots)
{
    private const int Means = 20;
    private const int Concentrations = 10;
    private const int Passes = 4;
    private static readonly double Spread = Math.Log(3);

    /// <summary>The rate whose moments match the posterior's.</summary>
    public EmergenceRate Matched()
    {
        var (logits, zs) = (new Axis(Math.Log(prior.Mean / (1 - prior.Mean)), 12, Means), new Axis(0, 5, Concentrations));
        var moments = Integrate(logits, zs);
        for (var pass = 1; pass < Passes; pass++)
        {
            logits = logits.Around(moments.Logit, moments.LogitVariance);
            zs = zs.Around(moments.Z, moments.ZVariance);
            moments = Integrate(logits, zs);
        }
        var certainty = moments.Mean * (1 - moments.Mean) / moments.MeanVariance - 1;
        return new(moments.Mean, certainty, 1 / moments.InverseLotSpread - 1);
    }

    private Moments Integrate(Axis logits, Axis zs)
    {
        var logs = new double[logits.Count, zs.Count];
        var top = double.NegativeInfinity;
        for (var i = 0; i < logits.Count; i++)
        {
            var mean = Rate(logits[i]);
            // d(mean)/d(logit) = mean(1-mean) raises both exponents of the beta prior by one.
            var logPrior = prior.Mean * prior.Certainty * Math.Log(mean) + (1 - prior.Mean) * prior.Certainty * Math.Log(1 - mean);
            for (var j = 0; j < zs.Count; j++)
            {
                var concentration = Concentration(zs[j]);
                logs[i, j] = logPrior - zs[j] * zs[j] / 2 + lots.Log(mean * concentration, (1 - mean) * concentration);
                top = Math.Max(top, logs[i, j]);
            }
        }
        var (sum, mean1, logit1, z1, inverse) = (0.0, 0.0, 0.0, 0.0, 0.0);
        void Each(Action<double, double, double, double> add)
        {
            for (var i = 0; i < logits.Count; i++)
                for (var j = 0; j < zs.Count; j++)
                    add(Math.Exp(logs[i, j] - top), Rate(logits[i]), logits[i], zs[j]);
        }
        Each((weight, mean, logit, z) =>
        {
            sum += weight;
            mean1 += weight * mean;
            logit1 += weight * logit;
            z1 += weight * z;
            inverse += weight / (1 + Concentration(z));
        });
        (mean1, logit1, z1, inverse) = (mean1 / sum, logit1 / sum, z1 / sum, inverse / sum);
        // Variances around the means, in a second walk: a difference of squares would lose the digits of a sharp posterior.
        var (mean2, logit2, z2) = (0.0, 0.0, 0.0);
        Each((weight, mean, logit, z) =>
        {
            mean2 += weight * (mean - mean1) * (mean - mean1);
            logit2 += weight * (logit - logit1) * (logit - logit1);
            z2 += weight * (z - z1) * (z - z1);
        });
        return new(mean1, mean2 / sum, logit1, logit2 / sum, z1, z2 / sum, inverse);
    }

    private double Concentration(double z) => prior.LotConcentration * Math.Exp(Spread * z);

    private static double Rate(double logit) => Math.Clamp(1 / (1 + Math.Exp(-logit)), 1e-15, 1 - 1e-15);

    /// <summary>Evenly spaced points around a centre.</summary>
    private readonly record struct Axis(double Centre, double Reach, int Half)
    {
        public int Count => 2 * Half + 1;

        public double this[int i] => Centre + Reach * (i - Half) / Half;

        /// <summary>Six standard deviations around what was found, but never nearer than two old steps, in case that fell between points.</summary>
        public Axis Around(double centre, double variance) => new(centre, Math.Max(6 * Math.Sqrt(variance), 2 * Reach / Half), Half);
    }

    private readonly record struct Moments(
        double Mean, double MeanVariance, double Logit, double LogitVariance, double Z, double ZVariance, double InverseLotSpread);
}
