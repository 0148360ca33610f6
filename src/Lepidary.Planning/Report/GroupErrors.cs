using Lepidary.Planning.Model;

namespace Lepidary.Planning.Report;

/// <summary>What the model says of a group, the total or the number of species on one day, beside its full distribution.</summary>
/// <param name="Aim">The aim.</param>
/// <param name="Day">Day of the plan.</param>
/// <param name="Mean">Mean count, of the full distribution.</param>
/// <param name="Variance">Its variance.</param>
/// <param name="MeanSaid">Mean, as the model has it.</param>
/// <param name="VarianceSaid">Variance, as the model has it.</param>
/// <param name="Said">Missing from the wish, as the model counts it.</param>
/// <param name="Exact">Missing from the wish, by the full distribution.</param>
/// <param name="Chance">Chance that the number is there.</param>
/// <param name="Worth">What one missing is worth in the objective, house currency.</param>
internal sealed record GroupError(
    DayAim Aim, int Day, double Mean, double Variance, double MeanSaid, double VarianceSaid, double Said, double Exact, double Chance, double Worth)
{
    /// <summary>How many too many (below 0: too few) the model counts as missing.</summary>
    public double Error => Said - Exact;

    /// <summary>True where at least half of the wish is there on average: where choices still turn on it.</summary>
    public bool IsNear => Mean > Aim.AtLeast / 2.0;
}

/// <summary>
/// The one approximation of the model: groups, totals and numbers of species count by mean and variance (docs/planning.md), single species and
/// pairs exactly. Measures it by convolving the full distributions of an order.
/// </summary>
internal static class GroupErrors
{
    /// <summary>Every day of every group of an order.</summary>
    public static IReadOnlyList<GroupError> Of(PlanModel model, int[] pupae)
    {
        var odds = new Odds(model.Problem, Money.Of(model, pupae).Lines);
        var (mean, variance) = (new double[model.GroupDays.Count], new double[model.GroupDays.Count]);
        foreach (var block in model.Blocks)
        {
            var column = new Column(block, [.. block.Items.Select(i => pupae[i.Index])], model.GroupDays);
            for (var i = 0; i < column.Mean.Length; i++)
            {
                mean[block.GroupDays[i]] += column.Mean[i];
                variance[block.GroupDays[i]] += column.Variance[i];
            }
        }

        return [.. model.GroupDays.Select((day, i) =>
        {
            var aim = (DayAim)model.Problem.Aims[day.Aim];
            var count = odds.CountOn(aim, day.Day);
            var exact = Block.Missing([.. Enumerable.Range(0, aim.AtLeast).Select(k => count[k])], aim.AtLeast, aim.Sure);
            return new GroupError(
                aim, day.Day, count.Mean, count.Variance, day.OwnMean + mean[i], day.OwnVariance + variance[i], day.Short(mean[i], variance[i]), exact, count.AtLeast(aim.AtLeast), day.Worth);
        })];
    }
}
