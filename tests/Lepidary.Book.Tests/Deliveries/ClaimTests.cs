using Xunit;

namespace Lepidary.Book.Tests.Deliveries;

public sealed class ClaimTests
{
    [Fact]
    public void Of_noteAgainstCount_claimsWhatIsPaidForAndNotFit()
    {
        var order = new Order
        {
            Currency = "EUR",
            Lines =
            {
                new() { Text = "Morpho", Taxon = "Morpho helenor", Pupae = 12, UnitPrice = 3.5m },
                new() { Text = "Idea", Taxon = "Idea leuconoe", Pupae = 10, UnitPrice = 4m },
            },
        };
        var delivery = new Delivery
        {
            DeviceTime = new(2026, 11, 24, 10, 0, 0, TimeSpan.Zero),
            Lines =
            {
                // Ordered 12, noted and charged 11: the twelfth is no claim.
                new() { Taxon = "Morpho helenor", OrderLineId = order.Lines[0].Id, Ordered = 12, Noted = 11, Alive = 7, Dead = 1, Damaged = 1, Emerged = 1 },
                new() { Taxon = "Idea leuconoe", Form = "clara", Ordered = 10, Alive = 8, WrongSpecies = 1 },
                new() { Taxon = "Papilio memnon", Noted = 5, Alive = 5 },
                new() { Taxon = "Attacus atlas", Alive = 1, Dead = 1 },
            },
        };

        var claim = Claim.Of(delivery, order, windowHours: 48);

        Assert.Equal(["Morpho helenor", "Idea leuconoe", "Attacus atlas"], claim.Lines.Select(line => line.Taxon));
        Assert.Equal([(1, 4, 14m), (1, 2, 8m), (0, 1, (decimal?)null)], claim.Lines.Select(line => (line.Missing, line.Pupae, line.Amount)));
        Assert.Equal((7, 22m), (claim.Pupae, claim.Amount));
        Assert.Equal(new DateTimeOffset(2026, 11, 26, 10, 0, 0, TimeSpan.Zero), claim.Until);
    }

    [Fact]
    public void Of_price_isTheNotesThenTheOrdersThenTheLists()
    {
        var order = new Order { Currency = "EUR", Lines = { new() { Text = "Morpho", Taxon = "Morpho helenor", Pupae = 12, UnitPrice = 3.5m } } };
        var delivery = new Delivery
        {
            Lines =
            {
                new() { Taxon = "Morpho helenor", Alive = 1, Dead = 1, NotedPrice = 3.2m },
                new() { Taxon = "Morpho helenor", Alive = 1, Dead = 1 },
                new() { Taxon = "Attacus atlas", Alive = 1, Dead = 2 },
            },
        };

        var claim = Claim.Of(delivery, order, listed: delivery.Lines.ToDictionary(line => line.Id, _ => 2m));

        Assert.Equal([(3.2m, PriceSource.Note), (3.5m, PriceSource.Order), (4m, PriceSource.List)], claim.Lines.Select(line => (line.Amount!.Value, line.PriceSource!.Value)));
    }

    [Fact]
    public void Of_moreThanNoted_claimsNothingMissing()
    {
        var claim = Claim.Of(new Delivery { Lines = { new() { Taxon = "Morpho helenor", Noted = 5, Alive = 6 } } });

        Assert.Empty(claim.Lines);
        Assert.Null(claim.Until);
    }
}
