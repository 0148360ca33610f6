using Lepidary.Science.Groups;

namespace Lepidary.Science.Emergence;

/// <summary>
/// The posterior of the mean rate and the lot concentration on a grid: the logit of the mean by the logarithm of the
/// concentration. The grid of the mean is laid twice: wide, then six standard deviations around what the first one found.
/// </summary>
internal sealed class RatePosterior(EmergenceRate prior, LotLikelihood lots)
{
    private const int Steps = 120;
    private const int Concentrations = 33;
    private static readonly double Spread = Math.Log(3);

    /// <summary>The rate whose moments match the posterior's.</summary>
    public EmergenceRate Matched()
    {
        var (centre, deviation) = (Logit(prior.Mean), 0.0);
        var (low, high) = (centre - 12, centre + 12);
        Moments moments = default;
        for (var pass = 0; pass < 3; pass++)
        {
            moments = Integrate(low, high);
            (centre, deviation) = (moments.Logit, Math.Sqrt(moments.LogitVariance));
            var reach = Math.Max(6 * deviation, (high - low) / Steps);
            (low, high) = (centre - reach, centre + reach);
        }
        var certainty = moments.Mean * (1 - moments.Mean) / moments.Variance - 1;
        return new(moments.Mean, certainty, 1 / moments.InverseLotSpread - 1);
    }

    private Moments Integrate(double low, double high)
    {
        var logs = new double[(Steps + 1) * Concentrations];
        var top = double.NegativeInfinity;
        for (var i = 0; i <= Steps; i++)
        {
            var mean = Rate(low + i * (high - low) / Steps);
            // d(mean)/d(logit) = mean(1-mean) raises both exponents of the beta prior by one.
            var logPrior = prior.Mean * prior.Certainty * Math.Log(mean) + (1 - prior.Mean) * prior.Certainty * Math.Log(1 - mean);
            for (var j = 0; j < Concentrations; j++)
            {
                var z = Z(j);
                var concentration = prior.LotConcentration * Math.Exp(Spread * z);
                var log = logPrior - z * z / 2 + lots.Log(mean * concentration, (1 - mean) * concentration);
                logs[i * Concentrations + j] = log;
                top = Math.Max(top, log);
            }
        }
        double sum = 0, mean1 = 0, mean2 = 0, logit1 = 0, logit2 = 0, inverse = 0;
        for (var i = 0; i <= Steps; i++)
        {
            var logit = low + i * (high - low) / Steps;
            var mean = Rate(logit);
            for (var j = 0; j < Concentrations; j++)
            {
                var weight = Math.Exp(logs[i * Concentrations + j] - top);
                sum += weight;
                mean1 += weight * mean;
                mean2 += weight * mean * mean;
                logit1 += weight * logit;
                logit2 += weight * logit * logit;
                inverse += weight / (1 + prior.LotConcentration * Math.Exp(Spread * Z(j)));
            }
        }
        return new(
            mean1 / sum,
            Math.Max(1e-300, mean2 / sum - mean1 / sum * (mean1 / sum)),
            logit1 / sum,
            Math.Max(0, logit2 / sum - logit1 / sum * (logit1 / sum)),
            inverse / sum);
    }

    private static double Z(int j) => -4 + 8.0 * j / (Concentrations - 1);

    private static double Logit(double mean) => Math.Log(mean / (1 - mean));

    private static double Rate(double logit) => Math.Clamp(1 / (1 + Math.Exp(-logit)), 1e-15, 1 - 1e-15);

    private readonly record struct Moments(
        double Mean, double Variance, double Logit, double LogitVariance, double InverseLotSpread);
}
