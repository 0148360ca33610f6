using Lepidary.App.Suppliers;
using Lepidary.Science.Emergence;

namespace Lepidary.App.Tests.Suppliers;

public sealed class CompareSuppliersTests
{
    private static readonly Guid Kessom = Guid.NewGuid(), Quillfeather = Guid.NewGuid();

    private static IEnumerable<CompareSuppliers.Lot> Lots(bool kessom, string taxon, params int[] emerged) =>
        emerged.Select((count, week) => new CompareSuppliers.Lot(kessom ? Kessom : Quillfeather, kessom ? "Kessom Farm" : "Quillfeather Pupae", taxon, new DateOnly(2026, 5, 1).AddDays(7 * week), count, 10));

    /// <summary>Kessom sends the easy species, Quillfeather the difficult one: in sum far apart, like with like not.</summary>
    [Fact]
    public void Pairs_compares_like_with_like()
    {
        var lots = Lots(true, "Danaus plexippus", 9, 9, 10, 9, 9, 8, 9).Concat(Lots(false, "Danaus plexippus", 9, 9))
            .Concat(Lots(true, "Attacus atlas", 5)).Concat(Lots(false, "Attacus atlas", 5, 4, 6, 5, 5, 5)).ToList();
        var row = Assert.Single(CompareSuppliers.Pairs(lots));
        Assert.Equal((2, false, "can't be told apart"), (row.Species, row.Apart, row.Said));
    }

    [Fact]
    public void Pairs_names_the_better_first()
    {
        var row = Assert.Single(CompareSuppliers.Pairs(Lots(true, "Danaus plexippus", 5, 4, 6, 5, 5, 5).Concat(Lots(false, "Danaus plexippus", 9, 9, 10, 9, 9, 8))));
        Assert.Equal(("Quillfeather Pupae", "Kessom Farm", true), (row.One, row.Other, row.Apart));
    }

    /// <summary>One farm is far better with one species and far worse with another: no one figure, and the two species are named.</summary>
    [Fact]
    public void Pairs_says_where_one_figure_does_not_fit_all_species()
    {
        var lots = Lots(true, "Danaus plexippus", 9, 10, 9, 9, 10, 9).Concat(Lots(false, "Danaus plexippus", 4, 5, 4, 5, 4, 5))
            .Concat(Lots(true, "Attacus atlas", 4, 4, 5, 4, 5, 4)).Concat(Lots(false, "Attacus atlas", 9, 9, 10, 9, 9, 10))
            .Concat(Lots(true, "Idea leuconoe", 8, 8, 8)).Concat(Lots(false, "Idea leuconoe", 8, 8, 8)).ToList();
        var row = Assert.Single(CompareSuppliers.Pairs(lots));
        Assert.Equal("by chance less than once in 1,000 such tables", row.Unlike);
        Assert.Equal(["Attacus atlas", "Danaus plexippus"], row.Kinds.Take(2).Select(kind => kind.Taxon).Order(StringComparer.Ordinal));
        Assert.Equal(row.One == "Kessom Farm" ? "56 of 60" : "27 of 60", row.Kinds.Single(kind => kind.Taxon == "Danaus plexippus").One);
    }

    [Fact]
    public void Pairs_that_are_alike_in_every_species_are_one_figure()
    {
        var lots = Lots(true, "Danaus plexippus", 9, 9, 9).Concat(Lots(false, "Danaus plexippus", 7, 7, 7)).Concat(Lots(true, "Attacus atlas", 8, 8, 8)).Concat(Lots(false, "Attacus atlas", 6, 6, 6)).ToList();
        var row = Assert.Single(CompareSuppliers.Pairs(lots));
        Assert.Equal("", row.Unlike);
        Assert.Empty(row.Kinds);
    }

    [Fact]
    public void Alarms_names_who_got_worse_and_how_seldom_that_is_chance()
    {
        var lots = Lots(true, "Danaus plexippus", 8, 8, 9, 8, 3, 2, 3, 2).Concat(Lots(false, "Danaus plexippus", 8, 8, 7, 8, 9, 8)).ToList();
        var row = Assert.Single(CompareSuppliers.Alarms(lots, _ => new EmergenceRate(0.8, 100, 30)));
        Assert.Equal(("Kessom Farm", "7 of 30 emerged in the last 3 lots; 8 of 10 is usual"), (row.Supplier, row.Last));
        Assert.Contains("once in 100 lots", row.Means, StringComparison.Ordinal);
    }

    /// <summary>The run lengths stand beside the watch whether it gives an alarm or not; one lot of a species is not watched yet.</summary>
    [Fact]
    public void Watched_says_how_long_the_watch_takes()
    {
        Assert.Equal("", CompareSuppliers.Watched([.. Lots(true, "Danaus plexippus", 9, 8)]));
        var said = CompareSuppliers.Watched([.. Lots(true, "Danaus plexippus", 9, 8, 7, 8), .. Lots(false, "Attacus atlas", 8, 8, 8)]);
        Assert.StartsWith("2 species of suppliers are watched: for lots of 10 of which 8 of 10 emerge, a false alarm comes about once in 10", said, StringComparison.Ordinal);
        Assert.Matches("found after about [0-9]+\\.$", said);
    }
}
