using Lepidary.Book;

namespace Lepidary.App.Rounds;

/// <summary>Counts in words, nothing of what is nought.</summary>
internal static class CountWords
{
    /// <summary><c>3 out (2 males, 1 female), 1 dead</c>; <c>nothing new</c> where all are nought.</summary>
    public static string Of(int male, int female, int unsexed, int crippled, int dead, int parasitised, int missing)
    {
        var parts = new List<string>();
        if (male + female + unsexed is > 0 and var emerged)
        {
            parts.Add(male + female == 0 ? $"{emerged} out" : $"{emerged} out ({Sexes(male, female, unsexed)})");
        }

        Add(crippled, "crippled");
        Add(dead, "dead");
        Add(parasitised, "parasitised");
        Add(missing, "missing");
        return parts.Count == 0 ? "nothing new" : string.Join(", ", parts);

        void Add(int count, string what)
        {
            if (count > 0)
            {
                parts.Add($"{count} {what}");
            }
        }
    }

    public static string Of(Entry entry) =>
        Of(entry.EmergedMale, entry.EmergedFemale, entry.EmergedUnsexed, entry.Crippled, entry.Dead, entry.Parasitised, entry.Missing);

    /// <summary>All the counts of several entries.</summary>
    public static string Of(IReadOnlyCollection<Entry> entries) => Of(
        entries.Sum(entry => entry.EmergedMale),
        entries.Sum(entry => entry.EmergedFemale),
        entries.Sum(entry => entry.EmergedUnsexed),
        entries.Sum(entry => entry.Crippled),
        entries.Sum(entry => entry.Dead),
        entries.Sum(entry => entry.Parasitised),
        entries.Sum(entry => entry.Missing));

    /// <summary><c>2 males, 1 female, 3 not sexed</c>.</summary>
    public static string Sexes(int male, int female, int unsexed)
    {
        var parts = new List<string>();
        if (male > 0)
        {
            parts.Add(male == 1 ? "1 male" : $"{male} males");
        }

        if (female > 0)
        {
            parts.Add(female == 1 ? "1 female" : $"{female} females");
        }

        if (unsexed > 0)
        {
            parts.Add(male + female == 0 ? $"{unsexed}" : $"{unsexed} not sexed");
        }

        return string.Join(", ", parts);
    }

    /// <summary>One fact about a lot in a sentence.</summary>
    /// <param name="place">Name of an area or a cage, or null.</param>
    public static string Of(Fact fact, Func<Guid?, string?> place) => fact switch
    {
        Entry entry => Of(entry),
        Release release => $"{Sexes(release.Male, release.Female, release.Unsexed)} released{(place(release.AreaId ?? release.CageId) is { } name ? " into " + name : "")}",
        FoundDead dead => $"{dead.Count} died in the cage before release",
        Transfer transfer => $"{transfer.Count} went to {transfer.To}",
        Move move => $"hung in {place(move.CageId) ?? "another place"}{(move.Row is null ? "" : $", row {move.Row}")}{(move.Position is > 1 and var first ? $", place {first}" : "")}",
        Recount recount => recount.Difference > 0 ? $"{recount.Difference} more were received than written down" : $"{-recount.Difference} fewer were received than written down",
        Delivery => "came in a box",
        Hanging => "hung",
        Voiding => "a row taken back",
        _ => throw new ArgumentOutOfRangeException(nameof(fact), fact.GetType().Name, "no fact about a lot"),
    };
}
