using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.App.Orders;
using Lepidary.App.Tests.Support;
using Lepidary.App.Weeks;
using Lepidary.Book;
using Lepidary.Planning;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;
using Lepidary.Taxa;
using Microsoft.Extensions.DependencyInjection;

namespace Lepidary.App.Tests.Weeks;

public sealed class WeeksAheadTests
{
    private static readonly DateOnly Today = HungHouse.Today;

    private static SupplierWeeks Weeks(params int[] weeksAgo) => new(
        new SupplierTerms { SupplierId = Guid.NewGuid(), HouseId = Guid.NewGuid(), Currency = "EUR", Supplier = new Supplier { Name = "Quillfeather Pupae" } },
        0,
        weeksAgo.Select(ago => new SeenWeek(Guid.NewGuid(), Guid.Empty, Today.AddDays(-7 * ago), default, null, null, [], new HashSet<string>())));

    /// <summary>By hand: three of four weeks had a list, so (3+1)/(4+2).</summary>
    [Fact]
    public void ListChance_counts_the_weeks_without_a_list()
    {
        Assert.Equal(4 / 6.0, WeeksAhead.ListChance(Weeks(0, 1, 3), Today), 12);
        Assert.Equal(2 / 3.0, WeeksAhead.ListChance(Weeks(0), Today), 12);
        Assert.Equal(2 / 6.0, WeeksAhead.ListChance(Weeks(3), Today), 12);
    }

    /// <summary>By hand: 100 pupae for 250 goods, 45 carriage from 1 pupa, 20 % tax on both, one of theirs 0.86 of ours: (250+45)·1.2·0.86 = 304.44; a pupa of 2.50 is a hundredth.</summary>
    [Fact]
    public void Landed_by_hand()
    {
        var order = new UsualOrder(
            new PlanSupplier { Name = "Q", Currency = "EUR", Rate = 0.86m, PricesExcludeTax = true, TaxRate = 0.2m, CarriageTaxed = true, Arrives = [Today], Carriage = [new CarriageStep(1, 45)] }, 100, 250, 0);

        Assert.Equal(3.0444m, order.Landed(2.50m), 10);
    }

    [Fact]
    public async Task Compared_costs_hang_together_and_name_what_they_rest_on()
    {
        await using var book = await TestBook.Demo();
        var taxon = TaxonTable.Shipped.Of("Morpho helenor");
        // The demo's walks have taught how long this house's fly: the table's life would be another.
        var life = await book.Serve<IServiceProvider, double>(async services =>
        {
            var day = services.GetRequiredService<HouseDay>();
            await day.Load(null, TestContext.Current.CancellationToken);
            var house = await day.House(TestContext.Current.CancellationToken);
            return (await services.GetRequiredService<OddsBook>().Learned(house.Id, day.Today, TestContext.Current.CancellationToken)).Survival(taxon).MeanDaysCounted;
        });
        Assert.NotEqual(AdultSurvival.FromLife(taxon.Life.AdultLifeDays.Value, taxon.Life.AdultLifeDaysMax.Value).MeanDaysCounted, life);

        var view = (await book.Done("weeks", "Morpho helenor", "--json")).Json.GetProperty("thisWeek");

        var offers = view.GetProperty("offers").EnumerateArray().ToList();
        Assert.NotEmpty(offers);
        Assert.All(offers, offer =>
        {
            var butterfly = offer.GetProperty("butterfly");
            var dayOf = offer.GetProperty("butterflyDay");
            Assert.True(offer.GetProperty("landed").GetDouble() < butterfly.GetProperty("middle").GetDouble());
            Assert.Equal(butterfly.GetProperty("middle").GetDouble(), dayOf.GetProperty("middle").GetDouble() * life, 9);
            Assert.True(butterfly.GetProperty("low").GetDouble() < butterfly.GetProperty("middle").GetDouble() && butterfly.GetProperty("middle").GetDouble() < butterfly.GetProperty("high").GetDouble());
            Assert.NotEmpty(offer.GetProperty("rateSource").GetString()!);
        });
    }

    [Fact]
    public async Task Propose_tells_the_planner_of_the_weeks_ahead_and_says_so()
    {
        await using var book = await TestBook.Demo();

        var proposed = await book.Serve<IServiceProvider, Checked<Proposed>>(async services =>
        {
            await services.GetRequiredService<HouseDay>().Load(null, TestContext.Current.CancellationToken);
            return await services.GetRequiredService<ProposeFromBook>().Propose([], new PlanSettings { Seconds = 4, Gap = 0.01 }, TestContext.Current.CancellationToken);
        });

        var problem = proposed.Value.Task.Problem;
        Assert.NotEmpty(problem.LaterArrivals);
        Assert.All(problem.LaterArrivals, arrives => Assert.InRange(arrives.DayNumber - problem.OrderDay.DayNumber, 8, problem.HorizonDays));
        var listed = problem.Taxa.Single(taxon => taxon.Name == "Morpho helenor");
        Assert.InRange(listed.Later!.WeeklyChance, 0.85, 1);
        Assert.InRange(listed.Later.LandedPrice, 2.5m, 8m);
        Assert.NotEmpty(proposed.Value.Report.Ahead);
    }

    [Fact]
    public void Memory_tells_problems_apart_by_what_lies_ahead()
    {
        var taxon = TaxonTable.Shipped.Of("Morpho helenor");
        var problem = new PlanProblem
        {
            OrderDay = Today,
            HorizonDays = 20,
            Currency = "EUR",
            Suppliers = [new PlanSupplier { Name = "Q", Currency = "EUR", Arrives = [Today.AddDays(3)] }],
            Offers = [new PlanOffer { Id = "a", Supplier = "Q", Taxon = taxon.Name, Price = 3, Text = "Morpho" }],
            Taxa = [new PlanTaxon { Taxon = taxon, Timing = EmergenceTiming.FromWindow(4, 9), Stock = new SpeciesStock(AdultSurvival.FromLife(14, 40), [], []) }],
            Aims = [new DisplayAim { Id = "aim", Words = "3 Morpho", Of = AimOf.Taxon(taxon.Name), AtLeast = 3, From = Today.AddDays(14), To = Today.AddDays(20) }],
        };

        Assert.Equal(ProposalMemory.KeyOf(problem), ProposalMemory.KeyOf(problem with { }));
        Assert.NotEqual(ProposalMemory.KeyOf(problem), ProposalMemory.KeyOf(problem with { LaterArrivals = [Today.AddDays(10)] }));
        Assert.NotEqual(ProposalMemory.KeyOf(problem), ProposalMemory.KeyOf(problem with { Taxa = [problem.Taxa[0] with { Later = new LaterOffers(0.9, 3) }] }));
    }
}
