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

    [Fact]
    public void Alarms_names_who_got_worse_and_how_seldom_that_is_chance()
    {
        var lots = Lots(true, "Danaus plexippus", 8, 8, 9, 8, 3, 2, 3, 2).Concat(Lots(false, "Danaus plexippus", 8, 8, 7, 8, 9, 8)).ToList();
        var row = Assert.Single(CompareSuppliers.Alarms(lots, _ => new EmergenceRate(0.8, 100, 30)));
        Assert.Equal(("Kessom Farm", "7 of 30 emerged in the last 3 lots; 8 of 10 is usual"), (row.Supplier, row.Last));
        Assert.Contains("once in 100 lots", row.Means, StringComparison.Ordinal);
    }
}
