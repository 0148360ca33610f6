namespace Lepidary.Planning;

/// <summary>What <see cref="PlanChecker"/> reckoned again, and whether it came to the same.</summary>
/// <param name="Compared">One entry for each figure, or for each group of like figures.</param>
/// <param name="Faults">What is wrong, one sentence each; none when every rule is kept and every figure is right.</param>
public sealed record PlanCheck(IReadOnlyList<PlanComparison> Compared, IReadOnlyList<string> Faults)
{
    /// <summary>Figures that were reckoned again.</summary>
    public int Figures => Compared.Sum(c => c.Figures);

    /// <summary>True when nothing is wrong.</summary>
    public bool Agrees => Faults.Count == 0;
}

/// <summary>A figure of a plan, or several of a kind, reckoned again.</summary>
/// <param name="What">What it is, in a few words.</param>
/// <param name="Unit">Currency, <c>pupae</c>, <c>chance</c> or <c>mean</c>.</param>
/// <param name="Reckoned">As reckoned again; of several the one that lies furthest from what was said, and where all agree the least with the order.</param>
/// <param name="Said">As the plan says; null for what a plan does not say.</param>
public sealed record PlanComparison(string What, string Unit, double Reckoned, double? Said)
{
    /// <summary>What it must not pass, or null.</summary>
    public double? Limit { get; init; }

    /// <summary>How many figures this stands for.</summary>
    public int Figures { get; init; } = 1;
}
