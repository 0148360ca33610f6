namespace Lepidary.Demo;

/// <summary>Holds the story to its own arithmetic before it is written.</summary>
internal static class Balance
{
    /// <summary>Places in each cage, as house.yaml has them.</summary>
    private static readonly (string Cage, int Places)[] Cages = [("Cage A", 180), ("Cage B", 190), ("Cage C", 30)];

    /// <summary>What does not add up, in sentences; one lot does not, on purpose.</summary>
    public static IEnumerable<string> Faults(History history)
    {
        var counted = history.Entries.GroupBy(e => e.Lot).ToDictionary(g => g.Key, g => g.Sum(e => e.Total));
        var emerged = history.Entries.GroupBy(e => e.Lot)
            .ToDictionary(g => g.Key, g => g.Sum(e => e.EmergedMale + e.EmergedFemale + e.EmergedUnsexed));
        var released = history.Releases.GroupBy(r => r.Lot).ToDictionary(g => g.Key, g => g.Sum(r => r.Male + r.Female + r.Unsexed));
        string[] over = [.. history.Lots.Where(lot => counted.GetValueOrDefault(lot.Id) > lot.Received).Select(lot => lot.Id)];
        if (over.Length != 1)
        {
            yield return $"{over.Length} lots give more than they held; one should: {string.Join(", ", over)}";
        }

        foreach (History.Lot lot in history.Lots.Where(lot => released.GetValueOrDefault(lot.Id) > emerged.GetValueOrDefault(lot.Id)))
        {
            yield return $"{lot.Id}: more released than emerged";
        }

        foreach (History.Delivery box in history.Deliveries)
        {
            int hung = box.Lines.Where(line => line.Lot is not null)
                .Sum(line => history.Lots.Single(lot => lot.Id == line.Lot).Received);
            if (hung != box.Lines.Sum(line => line.Alive))
            {
                yield return $"{box.Box}: {hung} hung, {box.Lines.Sum(line => line.Alive)} alive in the box";
            }
        }

        foreach (var row in history.Lots.Where(lot => counted.GetValueOrDefault(lot.Id) < lot.Received).GroupBy(lot => lot.Row).Where(row => row.Count() > 1))
        {
            yield return $"row {row.Key}: {string.Join(" and ", row.Select(lot => lot.Id))} hang there today";
        }

        var cageOf = history.Lots.ToDictionary(lot => lot.Id, lot => lot.Cage);
        foreach ((string cage, int places) in Cages)
        {
            for (int day = history.Lots.Min(lot => lot.Day); day <= 0; day++)
            {
                int hanging = history.Lots.Where(lot => lot.Cage == cage && lot.Day <= day).Sum(lot => lot.Received)
                    - history.Entries.Where(e => cageOf[e.Lot] == cage && e.Day <= day).Sum(e => e.Total);
                if (hanging > places)
                {
                    yield return $"{cage}, day {day}: {hanging} hang on {places} places";
                }
            }
        }
    }
}
