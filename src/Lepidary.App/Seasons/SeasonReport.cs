using Lepidary.Planning.Seasons;

namespace Lepidary.App.Seasons;

/// <summary>One way of ordering over the seasons drawn. Means; money in the house's currency.</summary>
internal sealed record SeasonRow
{
    public required string Policy { get; init; }

    public required double Landed { get; init; }

    public required double Shortage { get; init; }

    public required double Total { get; init; }

    /// <summary>95 of 100 such intervals hold the true mean; null for a single season.</summary>
    public required double? TotalFrom { get; init; }

    public required double? TotalTo { get; init; }

    /// <summary>Open days on which some wish was not met.</summary>
    public required double DaysShort { get; init; }

    /// <summary>Share of wishes times days that were met.</summary>
    public required double WishesMet { get; init; }

    /// <summary>Days on which cages were over full or more flew than should.</summary>
    public required double DaysOver { get; init; }

    public required double Boxes { get; init; }

    public required double Pupae { get; init; }

    /// <summary>Share of pupae that no visitor saw.</summary>
    public required double Wasted { get; init; }

    /// <summary>What the first way saves of this one's total, as a share of it; below 0 where the first is dearer.</summary>
    public required double FirstSaves { get; init; }

    /// <summary>95 of 100 such intervals hold the true share; null for a single season.</summary>
    public required double? FirstSavesFrom { get; init; }

    public required double? FirstSavesTo { get; init; }

    /// <summary>Flying in all by day, mean of the draws.</summary>
    public required IReadOnlyList<double> Flying { get; init; }

    /// <summary>What it ordered, by week: means of the draws; lines of the first draw.</summary>
    public required IReadOnlyList<SeasonWeekRow> ByWeek { get; init; }
}

/// <summary>One week's orders.</summary>
internal sealed record SeasonWeekRow(DateOnly OrderDay, double Boxes, double Pupae, double Landed, IReadOnlyList<OrderedLine> FirstDraw);

/// <summary>What was really ordered in a week that is replayed.</summary>
internal sealed record ReallyOrdered(DateOnly OrderDay, int Boxes, int Pupae, decimal Landed);

/// <summary>What came of the seasons.</summary>
internal sealed record SeasonReport
{
    public required int Draws { get; init; }

    public required int Asked { get; init; }

    public required int Weeks { get; init; }

    public required DateOnly From { get; init; }

    public required int OpenDays { get; init; }

    public required string Currency { get; init; }

    public required IReadOnlyList<SeasonRow> Rows { get; init; }

    /// <summary>What was really ordered, where weeks that were are replayed.</summary>
    public required IReadOnlyList<ReallyOrdered>? Really { get; init; }

    /// <summary>What it says in a sentence.</summary>
    public required string Headline { get; init; }

    public static SeasonReport Of(LaidSeason laid, SeasonComparison played, int asked)
    {
        var setting = laid.Setting;
        var rows = new List<SeasonRow>();
        for (var p = 0; p < played.Policies.Count && played.Draws.Count > 0; p++)
        {
            var policy = p;
            double Mean(Func<SeasonScore, double> of) => played.Mean(policy, of).Mean;
            var total = played.Mean(p, s => s.Total);
            var saves = played.Ratio(0, p, s => s.Total);
            rows.Add(new()
            {
                Policy = played.Policies[p],
                Landed = Mean(s => s.Landed),
                Shortage = Mean(s => s.Shortage),
                Total = total.Mean,
                TotalFrom = Finite(total.From),
                TotalTo = Finite(total.To),
                DaysShort = Mean(s => s.DaysShort),
                WishesMet = Mean(s => s.WishDays == 0 ? 1 : 1 - ((double)s.WishDaysShort / s.WishDays)),
                DaysOver = Mean(s => s.DaysOver),
                Boxes = Mean(s => s.Deliveries),
                Pupae = Mean(s => s.Pupae),
                Wasted = Mean(s => s.Pupae == 0 ? 0 : (double)s.Wasted / s.Pupae),
                FirstSaves = Finite(-saves.Mean) ?? 0,
                FirstSavesFrom = Finite(-saves.To),
                FirstSavesTo = Finite(-saves.From),
                Flying = [.. Enumerable.Range(0, setting.Days).Select(d => played.Draws.Average(draw => (double)draw[policy].Flying[d]))],
                ByWeek =
                [
                    .. Enumerable.Range(0, setting.Weeks).Select(week => new SeasonWeekRow(
                        setting.House.OrderDay.AddDays(7 * week), Mean(s => s.Ordered[week].Boxes), Mean(s => s.Ordered[week].Pupae), Mean(s => (double)s.Ordered[week].Landed),
                        played.Draws[0][policy].Ordered[week].Lines)),
                ],
            });
        }

        return new()
        {
            Draws = played.Draws.Count,
            Asked = asked,
            Weeks = setting.Weeks,
            From = setting.House.OrderDay,
            OpenDays = played.Draws.Count == 0 ? 0 : played.Draws[0][0].OpenDays,
            Currency = setting.House.Currency,
            Rows = rows,
            Really = laid.Really,
            Headline = Says(rows),
        };
    }

    // JSON knows no infinity: a single draw has no interval.
    private static double? Finite(double value) => double.IsFinite(value) ? value : null;

    private static string Says(List<SeasonRow> rows)
    {
        if (rows.Count == 0)
        {
            return "No season was played to its end.";
        }

        var best = rows.MinBy(row => row.Total)!;
        var rule = rows.FirstOrDefault(row => row.Policy == OrderByRule.Naive.Name);
        if (rule is null || rows[0] == rule)
        {
            return $"{Capital(best.Policy)} costs least.";
        }

        if (rule.FirstSavesFrom is < 0 && rule.FirstSavesTo is > 0)
        {
            return "Too few seasons to tell whether planning pays.";
        }

        var percent = (int)Math.Round(Math.Abs(rule.FirstSaves) * 100);
        return rule.FirstSaves >= 0
            ? $"Planning costs {percent} in a hundred less than the rule of thumb."
            : $"Here planning costs {percent} in a hundred more than the rule of thumb.";
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
