using Lepidary.Science.Emergence;

namespace Lepidary.Science.Tests.Emergence;

public class EmergenceModelTest
{
    private static EmergedLot Lot(string species, string supplier, int emerged, int done = 10, int day = 100, double? transit = null) =>
        new(species, supplier, 0.8, emerged, done, day, transit);

    [Fact]
    public void Learn_without_lots_is_nothing()
    {
        Assert.Null(EmergenceModel.Learn([]));
        Assert.Null(EmergenceModel.Learn([new("a", "x", 0.8, 0, 0, 1)]));
    }

    /// <summary>The prior says of a species without a lot what the table says, and is as unsure.</summary>
    [Fact]
    public void First_lot_moves_a_rate_away_from_the_table_a_little()
    {
        // One pupa at the table's rate: the book has next to nothing to say.
        var model = EmergenceModel.Learn([new("a", "x", 0.8, 1, 1.25, 100)])!;
        var rate = model.Rate("other", null, 0.8);
        Close.To(0.8, rate.Mean, 0.005);
        Assert.InRange(rate.Certainty, 14, 28);
        Assert.InRange(rate.LotConcentration, 20, 40);
    }

    [Fact]
    public void Rate_goes_from_the_table_to_the_counts_lot_by_lot()
    {
        var (last, sureness) = (0.8, 0.0);
        foreach (var lots in new[] { 1, 3, 10, 30, 100 })
        {
            var rate = EmergenceModel.Learn(Enumerable.Repeat(Lot("a", "x", 4), lots))!.Rate("a", "x", 0.8);
            Assert.InRange(rate.Mean, 0.4, last);
            Assert.True(rate.Certainty > sureness);
            (last, sureness) = (rate.Mean, rate.Certainty);
        }
        Close.To(0.4, last, 0.02);
    }

    [Fact]
    public void Bad_supplier_is_bad_for_a_species_that_it_never_sent()
    {
        string[] kinds = ["a", "b", "c", "d", "e", "f"];
        var model = EmergenceModel.Learn(kinds.SelectMany(kind => new[] { Lot(kind, "good", 9), Lot(kind, "bad", 5), Lot(kind, "good", 9), Lot(kind, "bad", 4) }))!;
        Assert.True(model.Rate("new", "bad", 0.8).Mean < model.Rate("new", null, 0.8).Mean);
        Assert.True(model.Rate("new", null, 0.8).Mean < model.Rate("new", "good", 0.8).Mean);
        Assert.True(model.Rate("a", "bad", 0.8).Certainty > model.Rate("new", "bad", 0.8).Certainty);
    }

    /// <summary>Three good boxes do not make a supplier perfect.</summary>
    [Fact]
    public void Three_good_boxes_do_not_make_a_supplier_perfect() =>
        Assert.InRange(EmergenceModel.Learn(Enumerable.Repeat(Lot("a", "x", 10), 3))!.Rate("a", "x", 0.8).Mean, 0.82, 0.92);

    /// <summary>10 hung, 6 out, F = 3/4, p = 4/5: each of the four left still comes with 0.8·0.25/(1-0.6) = 1/2, so 3/4 of 8 in 3/4 of 10.</summary>
    [Fact]
    public void Hanging_lot_counts_in_part()
    {
        var (emerged, done) = EmergenceModel.Told(10, 6, 0, 0.75, 0.8);
        Close.To(6, emerged, Close.Rounding);
        Close.To(7.5, done, Close.Rounding);
        Assert.Equal((0, 0), EmergenceModel.Told(10, 2, 0, 0.4, 0.8));
        Assert.Equal((2, 10), EmergenceModel.Told(10, 2, 8, 0.1, 0.8));
        Assert.Equal((7, 10), EmergenceModel.Told(10, 7, 1, 1, 0.8));
    }

    /// <summary>Lots seen at nine tenths of their time teach the same mean as lots seen to the end: a tenth of the way to what was thought, not to failure.</summary>
    [Fact]
    public void Hanging_lots_are_not_failures()
    {
        var random = new Random(5);
        int Binomial(int n, double p) => Enumerable.Range(0, n).Count(_ => random.NextDouble() < p);
        double Learnt(double thought) => EmergenceModel.Learn(Enumerable.Range(0, 400).Select(_ => Binomial(12, 0.9 * 0.9)).ToList()
            .Select(k => EmergenceModel.Told(12, k, 0, 0.9, thought)).Select(told => new EmergedLot("a", "x", 0.8, told.Emerged, told.Done, 100)))!.Rate("a", "x", 0.8).Mean;
        Close.To(0.9, Learnt(0.9), 0.01);
        Close.To(0.9, Learnt(0.8), 0.04);
        Assert.True(Learnt(0.8) > 0.81 + 0.03);
    }

    [Fact]
    public void Season_and_transit_are_learnt_where_the_book_supports_them()
    {
        var random = new Random(3);
        EmergedLot Draw(int i)
        {
            var (day, transit) = (1 + i * 3 % 365, (double)random.Next(1, 5));
            var logit = 1.4 + 0.5 * Math.Cos(2 * Math.PI * day / 365.25) - 0.25 * (transit - 2);
            return Lot("s" + i % 8, "f" + i % 3, Enumerable.Range(0, 15).Count(_ => random.NextDouble() < 1 / (1 + Math.Exp(-logit))), 15, day, transit);
        }
        var model = EmergenceModel.Learn(Enumerable.Range(0, 600).Select(Draw))!;
        Assert.True(model.HasSeason && model.HasTransit);
        Close.To(0.5, model.Fit.FixedEffects[1], 0.12);
        Close.To(-0.25, model.Fit.FixedEffects[3], 0.08);
        Assert.True(model.Rate("s1", "f1", 0.8, 1, 1).Mean > model.Rate("s1", "f1", 0.8, 183, 4).Mean + 0.1);
        var spring = EmergenceModel.Learn(Enumerable.Range(0, 20).Select(Draw))!;
        Assert.False(spring.HasSeason || spring.HasTransit);
    }

    [Fact]
    public void Learn_near_yesterdays_model_is_the_same()
    {
        var random = new Random(11);
        var lots = Enumerable.Range(0, 200).Select(i => Lot("s" + random.Next(20), "f" + random.Next(4), random.Next(5, 11), 10, 90)).ToList();
        var (cold, before) = (EmergenceModel.Learn(lots)!, EmergenceModel.Learn(lots.Take(180))!);
        var warm = EmergenceModel.Learn(lots, before)!;
        Close.To(cold.Rate("s1", "f1", 0.8).Mean, warm.Rate("s1", "f1", 0.8).Mean, 1e-4);
    }

    /// <summary>Logit 0 with no uncertainty worth the name is a half; moments against a fine sum.</summary>
    [Fact]
    public void Rate_from_a_logit_keeps_the_moments()
    {
        Close.To(0.5, EmergenceModel.FromLogit(0, 0.5, 0.5).Mean, 1e-9);
        var rate = EmergenceModel.FromLogit(1.4, 0.5, 0.4);
        var random = new Random(2);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var (mean, square, n) = (0.0, 0.0, 400_000);
        for (var i = 0; i < n; i++)
        {
            var p = 1 / (1 + Math.Exp(-(1.4 + 0.5 * Normal() + 0.4 * Normal())));
            mean += p / n;
            square += p * p / n;
        }
        Close.To(mean, rate.Mean, 1e-3);
        // Whole variance: of the mean and between lots around it.
        var inner = rate.Mean * (1 - rate.Mean) / (rate.Certainty + 1);
        Close.To(square - mean * mean, inner + (rate.Mean * (1 - rate.Mean) - inner) / (rate.LotConcentration + 1), 3e-4);
    }
}
