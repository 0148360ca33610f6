using Lepidary.Planning.Tests.Instances;
using Xunit;

namespace Lepidary.Planning.Tests;

public class PlanCheckerTests
{
    public static TheoryData<int> Seeds => [.. Enumerable.Range(201, 120)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Check_proposal_findsNothing(int seed)
    {
        var problem = Tiny.Random(seed);
        var outcome = Planner.Propose(problem, cancel: TestContext.Current.CancellationToken);
        if (outcome.Plan is not null)
            Assert.Empty(PlanChecker.Check(problem, outcome.Plan));
        else
            Assert.NotEmpty(outcome.Problems);
    }

    [Fact]
    public void Check_plannedWeek_findsEveryPlantedFault()
    {
        var (problem, plan) = Week();
        Assert.Empty(PlanChecker.Check(problem, plan));
        void Finds(string part, PlanProblem p, Plan faulty) =>
            Assert.Contains(PlanChecker.Check(p, faulty), f => f.Contains(part, StringComparison.Ordinal));

        Plan WithLine(Func<PlanLine, PlanLine> change) => plan with { Lines = [change(plan.Lines[0]), .. plan.Lines.Skip(1)] };
        var line = plan.Lines[0];
        Finds("whole packs", problem, WithLine(l => l with { Pupae = l.Pupae + 1 }));
        Finds("not", problem, WithLine(l => l with { UnitPrice = l.UnitPrice + 1 }));
        Finds("landed costs sum", problem, WithLine(l => l with { Landed = l.Landed + 0.01m }));
        Finds("nothing arrives", problem, WithLine(l => l with { Arrives = l.Arrives.AddDays(1) }));
        Finds("the budget is", problem with { Budget = plan.Total - 1 }, plan);
        Finds("places", problem with { CagePlaces = plan.Orders.Min(o => o.Pupae) - 1 }, plan);
        Finds("ceiling", problem with { FlyingCeiling = 1 }, plan);
        Finds("keeper set", problem with { Rules = [new(line.Offer, LineRuleKind.Forbidden)] }, plan);
        Finds("may not keep", problem with { Taxa = [.. problem.Taxa.Select(t => t.Name == line.Taxon ? t with { KeepNot = "of a test" } : t)] }, plan);
        Finds("may come", problem with { Taxa = [.. problem.Taxa.Select(t => t with { MostPupae = 1 })] }, plan);
        Finds("the minimum is", problem with { Suppliers = [.. problem.Suppliers.Select(s => s with { MinimumPupae = 9999 })] }, plan);
        Finds("costs", problem with { Suppliers = [.. problem.Suppliers.Select(s => s with { TaxRate = s.TaxRate + 0.1m })] }, plan);
        Finds("costs", problem with { Suppliers = [.. problem.Suppliers.Select(s => s with { Carriage = [new(1, 99)] })] }, plan);
        Finds("carriage", problem with { Suppliers = [.. problem.Suppliers.Select(s => s with { Carriage = [new(1, 99)] })] }, plan);
        Finds("tax", problem with { Suppliers = [.. problem.Suppliers.Select(s => s with { TaxRate = s.TaxRate + 0.1m })] }, plan);
        Finds("The total is", problem, plan with { Total = plan.Total + 1 });
        Finds("has no odds", problem, plan with { Aims = [] });
        Finds("the chance is", problem, plan with
        {
            Aims = [plan.Aims[0] with { Days = [plan.Aims[0].Days[0] with { With = 0.123 }, .. plan.Aims[0].Days.Skip(1)] }, .. plan.Aims.Skip(1)],
        });
        Finds("sold out", problem with { Offers = [.. problem.Offers.Select(o => o with { SoldOut = true })] }, plan);
        Finds("more than the", problem with { Offers = [.. problem.Offers.Select(o => o with { Available = 1 })] }, plan);
    }

    [Fact]
    public void Compare_plannedWeek_tellsEachFigureThatItReckonedAgain()
    {
        var (problem, plan) = Week();

        var check = PlanChecker.Compare(problem, plan);

        Assert.True(check.Agrees);
        Assert.All(check.Compared.Where(c => c.Said is not null), c => Assert.Equal(c.Said!.Value, c.Reckoned, 1e-6));
        Assert.All(check.Compared.Where(c => c.Limit is not null), c => Assert.True(c.Reckoned <= c.Limit + 0.01));
        foreach (var order in plan.Orders)
            Assert.All(["carriage", "charges", "tax", "landed"], part => Assert.Contains(check.Compared, c => c.What == $"{order.Supplier}: {part}"));
        Assert.All(problem.Aims, aim => Assert.Contains(check.Compared, c => c.What == aim.Words && c.Unit == "chance"));
        Assert.True(check.Figures > check.Compared.Count);
    }

    internal static (PlanProblem Problem, Plan Plan) Week()
    {
        var morpho = Tiny.Plain("Morpho helenor", "blue");
        var memnon = Tiny.Plain("Papilio memnon");
        var problem = new PlanProblem
        {
            OrderDay = Tiny.Day,
            HorizonDays = 20,
            Currency = "GBP",
            Taxa = [morpho, memnon],
            Suppliers =
            [
                new() { Name = "Quillfeather Pupae", Currency = "EUR", Rate = 0.86m, TaxRate = 0.2m, CarriageTaxed = true, Arrives = [Tiny.Day.AddDays(1)], Carriage = [new(1, 24), new(100, 38)], MinimumPupae = 10 },
                new() { Name = "Amberwing Farm", Currency = "GBP", Arrives = [Tiny.Day.AddDays(2)], Carriage = [new(1, 12)] },
            ],
            Offers =
            [
                new() { Id = "q1", Supplier = "Quillfeather Pupae", Taxon = morpho.Name, Price = 3.1m, Pack = 5, Available = 60, Breaks = [new(20, 2.9m)] },
                new() { Id = "q2", Supplier = "Quillfeather Pupae", Taxon = memnon.Name, Price = 2.2m, Pack = 5 },
                new() { Id = "a1", Supplier = "Amberwing Farm", Taxon = memnon.Name, Price = 2.6m, Available = 30 },
            ],
            Aims =
            [
                new DisplayAim { Id = "blue", Words = "8 blue", Of = AimOf.Tag("blue"), AtLeast = 8, Sure = 0.9, Days = [DayOfWeek.Saturday, DayOfWeek.Sunday], From = Tiny.Day.AddDays(7) },
                new DisplayAim { Id = "all", Words = "14 in all", Of = AimOf.All, AtLeast = 14, Sure = 0.8, From = Tiny.Day.AddDays(9), To = Tiny.Day.AddDays(14) },
            ],
        };
        return (problem, Planner.Propose(problem).Plan!);
    }
}
