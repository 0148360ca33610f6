using Lepidary.Science.Ground;

namespace Lepidary.Science.Mixed;

/// <summary>A kind of random effect: each row of the data belongs to one of its levels (a species, a supplier, a lot).</summary>
/// <param name="Name">What a level is, for messages.</param>
/// <param name="Level">The level of each row, 0…<paramref name="Levels"/>-1.</param>
/// <param name="Levels">Number of levels; a level without a row is a new one: its effect is the prior's.</param>
public sealed record RandomTerm(string Name, IReadOnlyList<int> Level, int Levels);

/// <summary>The data of a logistic mixed model: counts out of counts, what is known of each row, and the groups that it belongs to.</summary>
public sealed record MixedDesign
{
    /// <summary>Creates a design.</summary>
    /// <param name="successes">Of each row, 0 ≤ successes ≤ trials. Need not be whole: a lot still hanging counts in part.</param>
    /// <param name="trials">Of each row, above 0.</param>
    /// <param name="fixedEffects">Of each row the known quantities, all rows of one length; the constant 1 is one of them if wanted.</param>
    /// <param name="terms">Random effects.</param>
    /// <param name="offset">Known part of each row's logit, or null for none.</param>
    /// <exception cref="ArgumentException">Lengths do not agree, a count or a level lies outside.</exception>
    public MixedDesign(
        IReadOnlyList<double> successes, IReadOnlyList<double> trials, IReadOnlyList<double[]> fixedEffects, IReadOnlyList<RandomTerm> terms,
        IReadOnlyList<double>? offset = null)
    {
        ArgumentNullException.ThrowIfNull(successes);
        ArgumentNullException.ThrowIfNull(trials);
        ArgumentNullException.ThrowIfNull(fixedEffects);
        ArgumentNullException.ThrowIfNull(terms);
        (Rows, FixedEffects) = (successes.Count, fixedEffects.Count == 0 ? 0 : fixedEffects[0].Length);
        if (Rows == 0) throw new ArgumentException("There are no rows.", nameof(successes));
        if (trials.Count != Rows || fixedEffects.Count != Rows || (offset is not null && offset.Count != Rows))
            throw new ArgumentException("Each row has its successes, trials, fixed effects and offset.", nameof(successes));
        foreach (var term in terms)
        {
            if (term.Level.Count != Rows) throw new ArgumentException($"Each row has a level of {term.Name}.", nameof(terms));
            foreach (var level in term.Level)
                if ((uint)level >= (uint)term.Levels) throw new ArgumentException($"A level of {term.Name} lies outside 0…{term.Levels - 1}.", nameof(terms));
        }
        for (var i = 0; i < Rows; i++)
        {
            Guard.FinitePositive(trials[i]);
            if (!(successes[i] >= 0 && successes[i] <= trials[i])) throw new ArgumentException("Successes lie in 0…trials.", nameof(successes));
            if (fixedEffects[i].Length != FixedEffects) throw new ArgumentException("All rows have the same fixed effects.", nameof(fixedEffects));
            foreach (var x in fixedEffects[i]) Guard.Finite(x);
        }
        (Successes, Trials, X, Terms, Offset) = ([.. successes], [.. trials], [.. fixedEffects], terms, offset is null ? new double[Rows] : [.. offset]);
    }

    /// <summary>Number of rows.</summary>
    public int Rows { get; }

    /// <summary>Number of fixed effects.</summary>
    public int FixedEffects { get; }

    /// <summary>Random effects, as given.</summary>
    public IReadOnlyList<RandomTerm> Terms { get; }

    internal double[] Successes { get; }

    internal double[] Trials { get; }

    internal double[][] X { get; }

    internal double[] Offset { get; }
}

/// <summary>
/// What is thought before the counts: a normal prior of each fixed effect, a log-normal one of each standard deviation. Keeps a book of three lots from claiming that all
/// suppliers are alike.
/// </summary>
/// <param name="FixedMean">Of each fixed effect, logit.</param>
/// <param name="FixedDeviation">Its standard deviation, logit; +infinity for none.</param>
/// <param name="DeviationMedian">Of each random term's standard deviation, logit.</param>
/// <param name="LogSpread">Standard deviation of its logarithm, above 0.</param>
public sealed record MixedPrior(
    IReadOnlyList<double> FixedMean, IReadOnlyList<double> FixedDeviation, IReadOnlyList<double> DeviationMedian, double LogSpread);
