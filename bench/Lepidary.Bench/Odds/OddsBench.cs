using Lepidary.App.Odds;
using Lepidary.App.Rounds;
using Lepidary.Bench.Book;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.Bench.Odds;

/// <summary>All odds that Today and the round need, for a house with five years of book.</summary>
internal static class OddsBench
{
    private const int Weeks = 261;
    private const int Times = 9;

    public static async Task<int> RunAsync(string[] args)
    {
        Figures.Head("odds");
        var path = args.Length > 0 ? args[0] : Path.Combine(Directory.CreateTempSubdirectory("lepidary-bench-").FullName, "five-years.db");
        var factory = new BookBench.Factory(path);
        if (!File.Exists(path)) await new TenYearBook(factory, Weeks).MakeAsync();
        Guid house;
        int lots;
        await using (var context = factory.CreateDbContext())
        {
            house = await context.Houses.AsNoTracking().Select(one => one.Id).SingleAsync();
            lots = await context.Lots.CountAsync();
        }

        var (openLots, day) = (new OpenLots(factory), TenYearBook.LastDay);
        var stock = new StockReader(factory, openLots);
        await openLots.ReadAsync(house, day.AddDays(-1));
        var (hanging, learnt) = (0, 0);
        async Task<Learned> Odds(OddsBook odds, DateOnly on)
        {
            var before = await openLots.ReadAsync(house, on.AddDays(-1));
            var learned = await odds.Learned(house, on, CancellationToken.None);
            foreach (var lot in before)
            {
                EmergingToday.Of(lot, "Quillfeather Pupae", learned, on);
                EmergingToday.Late(lot, learned, on);
            }

            hanging = before.Count;
            return learned;
        }

        var (first, next, again) = (new List<(double, double)>(), new List<(double, double)>(), new List<(double, double)>());
        for (var time = -1; time < Times; time++)
        {
            var odds = new OddsBook(factory, stock, new LotCounts(factory), new AdultCounts(factory));
            var cold = await Figures.Took(() => Odds(odds, day));
            var tomorrow = await Figures.Took(() => Odds(odds, day.AddDays(1)));
            var warm = await Figures.Took(() => Odds(odds, day.AddDays(1)));
            if (time < 0) continue;
            first.Add(cold);
            next.Add(tomorrow);
            again.Add(warm);
        }

        List<LotRecord> records = [.. (await new OddsBook(factory, stock, new LotCounts(factory), new AdultCounts(factory)).Learned(house, day, CancellationToken.None)).Records];
        learnt = records.Count;
        Console.WriteLine($"{lots} lots in the book, {learnt} of them of the last two years, {hanging} hang");
        var peer = Peers.R("""
            suppressMessages(library(lme4))
            lots <- read.csv(commandArgs(TRUE)[1]); lots$lot <- seq_len(nrow(lots))
            cat(system.time(glmer(cbind(out, bad) ~ 1 + (1|species) + (1|lot), lots, binomial, control = glmerControl(calc.derivs = FALSE)))[["elapsed"]], "\n")
            """, writer =>
        {
            writer.WriteLine("species,out,bad");
            foreach (var lot in records.Where(lot => lot.Emerged + lot.Failed > 0)) writer.WriteLine($"{lot.Taxon},{lot.Emerged},{lot.Failed}");
        });
        void Row(string what, List<(double, double)> taken)
        {
            var (clock, processor) = Figures.Middle(taken);
            Figures.Row(what, clock, "ms", peer is [var seconds, ..] ? 1000 * seconds : double.NaN);
            Figures.Note("  of that by the processor", $"{processor,10:0.00} ms");
        }

        Console.WriteLine(peer is null ? "lme4 is not here (Rscript with lme4): no peer" : "peer: lme4's glmer fits the same lots, species and lots alone");
        Row("odds of a first day, read and learnt", first);
        Row("odds of the next day, read and learnt", next);
        Row("the same day again", again);
        return 0;
    }
}
