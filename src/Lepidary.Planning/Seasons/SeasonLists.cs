namespace Lepidary.Planning.Seasons;

/// <summary>The lists of one season, by week.</summary>
internal static class SeasonLists
{
    /// <summary>
    /// Draws what is offered in each week. Every line takes its own numbers, so that a line left out of the setting leaves all others as they were.
    /// </summary>
    public static IReadOnlyList<PlanOffer>[] Draw(SeasonSetting setting, ulong key)
    {
        var weeks = Enumerable.Range(0, setting.Weeks).Select(_ => new List<PlanOffer>()).ToArray();
        var random = new SeasonRandom(0);
        foreach (var line in setting.Lines)
        {
            random.Restart(SeasonRandom.Split(key, Label(line.Id)));
            for (var week = 0; week < weeks.Length; week++)
            {
                var listed = random.NextShare() < line.Chance;
                var price = random.NextShare();
                var available = random.NextShare();
                if (!listed)
                    continue;
                weeks[week].Add(new()
                {
                    Id = FormattableString.Invariant($"{line.Id}@{week}"),
                    Supplier = line.Supplier,
                    Taxon = line.Taxon,
                    Price = PriceAt(line.Price, price),
                    Pack = line.Pack,
                    Minimum = line.Minimum,
                    Available = line.AvailableFrom + (int)(available * (line.AvailableTo - line.AvailableFrom + 1)),
                });
            }
        }

        return weeks;
    }

    /// <summary>The price that a share of the weeks is below: straight lines through the three that are known, going on outside them.</summary>
    public static decimal PriceAt(PriceOutlook price, double share)
    {
        var (low, middle, high) = ((double)price.Low, (double)price.Middle, (double)price.High);
        var at = share < 0.5 ? middle - ((middle - low) * (0.5 - share) / 0.4) : middle + ((high - middle) * (share - 0.5) / 0.4);
        return Math.Round((decimal)Math.Max(0.01, at), 2);
    }

    /// <summary>A number for a text, the same on every machine: FNV-1a with 64 bits.</summary>
    public static ulong Label(string text)
    {
        var hash = 14695981039346656037UL;
        foreach (var letter in text)
            hash = unchecked((hash ^ letter) * 1099511628211UL);
        return hash;
    }
}
