namespace Lepidary.Book;

/// <summary>Adults of one taxon released into one area on one day, and how many of them were found dead since.</summary>
public sealed record FlyingGroup
{
    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Flight area, or null where not known.</summary>
    public Guid? AreaId { get; init; }

    /// <summary>Day of the release.</summary>
    public DateOnly ReleasedOn { get; init; }

    /// <summary>Males released.</summary>
    public int Male { get; init; }

    /// <summary>Females released.</summary>
    public int Female { get; init; }

    /// <summary>Released, sex not told.</summary>
    public int Unsexed { get; init; }

    /// <summary>Of these, found dead since; the sex of the dead is not written down.</summary>
    public int FoundDead { get; init; }

    /// <summary>Released.</summary>
    public int Released => Male + Female + Unsexed;

    /// <summary>
    /// Released and not found dead. How many of them still live is for the forecast to say: most dead are never found.
    /// </summary>
    public int Count => Released - FoundDead;
}

/// <summary>What flies, by the day of release.</summary>
public static class Flying
{
    /// <summary>
    /// Groups of adults that were released into flight areas, less those found dead. A dead adult is taken from the oldest group of its
    /// taxon that was released by then, in its own area first (a convention: nobody can tell which one it was). Dead beyond those
    /// released were bred in the house or released unseen, and take nothing away.
    /// </summary>
    /// <param name="standing">Facts that count (see <see cref="Ledger.Standing"/>); of other kinds than releases and found dead do no harm.</param>
    /// <param name="day">The day at whose end they fly.</param>
    /// <returns>Groups with at least one left, by taxon and day of release.</returns>
    public static IReadOnlyList<FlyingGroup> Groups(IEnumerable<Fact> standing, DateOnly day)
    {
        ArgumentNullException.ThrowIfNull(standing);
        var facts = standing.Where(fact => fact.OnDay <= day).ToList();
        return Less(
            facts.OfType<Release>().Where(release => release.CageId is null)
                .GroupBy(release => (release.Taxon, release.OnDay, release.AreaId))
                .Select(group => new FlyingGroup
                {
                    Taxon = group.Key.Taxon,
                    AreaId = group.Key.AreaId,
                    ReleasedOn = group.Key.OnDay,
                    Male = group.Sum(release => release.Male),
                    Female = group.Sum(release => release.Female),
                    Unsexed = group.Sum(release => release.Unsexed),
                }),
            facts.OfType<FoundDead>().Where(dead => dead.LotId is null));
    }

    /// <summary>The groups less those found dead.</summary>
    internal static IReadOnlyList<FlyingGroup> Less(IEnumerable<FlyingGroup> released, IEnumerable<FoundDead> foundDead)
    {
        var groups = released.OrderBy(group => group.Taxon, StringComparer.Ordinal).ThenBy(group => group.ReleasedOn).ThenBy(group => group.AreaId).ToList();
        var byTaxon = Enumerable.Range(0, groups.Count).ToLookup(index => groups[index].Taxon, StringComparer.Ordinal);
        foreach (var dead in foundDead.OrderBy(dead => dead.OnDay).ThenBy(dead => dead.Id))
        {
            var left = dead.Count;
            foreach (var index in byTaxon[dead.Taxon].Where(index => groups[index].ReleasedOn <= dead.OnDay)
                .OrderBy(index => groups[index].AreaId == dead.AreaId ? 0 : 1))
            {
                var taken = Math.Min(left, groups[index].Count);
                groups[index] = groups[index] with { FoundDead = groups[index].FoundDead + taken };
                left -= taken;
            }
        }

        return [.. groups.Where(group => group.Count > 0)];
    }
}
