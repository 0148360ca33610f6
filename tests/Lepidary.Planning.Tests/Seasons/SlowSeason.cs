using Lepidary.Planning.Seasons;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Tests.Seasons;

/// <summary>A season written again, plainly: a list of single animals, and every day looked at by itself. It shares the numbers drawn, and nothing of the counting.</summary>
internal static class SlowSeason
{
    public sealed record Result(IReadOnlyList<int> Flying, decimal Landed, double Shortage, int WishDaysShort, int DaysShort);

    private sealed record Animal(string Taxon, int From, int To);

    public static Result Play(SeasonSetting setting, IReadOnlyList<IReadOnlyList<OrderedLine>> orders, ulong seed)
    {
        var house = setting.House;
        var rates = SeasonRandom.Split(seed, 3);
        var fates = SeasonRandom.Split(seed, 2);
        var animals = new List<Animal>();
        foreach (var taxon in house.Taxa)
        {
            var random = new SeasonRandom(SeasonRandom.Split(SeasonRandom.Split(seed, 4), SeasonLists.Label(taxon.Name)));
            foreach (var lot in taxon.Stock.Lots)
            {
                var alive = new Fate[FlyingForecast.Alive(lot).Quantile(random.NextShare())];
                new FateTable(lot.Timing.GivenNotYet(lot.DaysHanging), taxon.Stock.Survival).Draw(random, 1, alive);
                animals.AddRange(alive.Select(f => new Animal(taxon.Name, f.EmergesOn - lot.DaysHanging, f.EmergesOn - lot.DaysHanging + f.Flies)));
            }

            foreach (var group in taxon.Stock.Flying)
            {
                var lives = new Fate[group.Count];
                FateTable.OfFlying(taxon.Stock.Survival, group.DaysOnWing).Draw(random, 1, lives);
                foreach (var life in lives)
                {
                    if (random.NextShare() < group.Alive)
                        animals.Add(new(taxon.Name, 0, life.Flies));
                }
            }
        }

        var landed = 0m;
        var lists = SeasonRun.Lists(setting, seed);
        for (var week = 0; week < orders.Count; week++)
        {
            foreach (var supplier in house.Suppliers)
            {
                var arrives = (week * 7) + supplier.Arrives[0].DayNumber - house.OrderDay.DayNumber;
                var lines = orders[week].Select(l => (l.Pupae, Offer: lists[week].Single(o => o.Id == l.Offer))).Where(l => l.Offer.Supplier == supplier.Name).ToList();
                if (lines.Count == 0)
                    continue;
                var goods = lines.Sum(l => l.Pupae * l.Offer.Price) * (1 + supplier.TaxRate);
                var carriage = supplier.Carriage.Last(c => c.From <= lines.Sum(l => l.Pupae)).Cost;
                landed += Math.Round((goods + carriage) * supplier.Rate, 2, MidpointRounding.AwayFromZero);
                foreach (var (pupae, offer) in lines)
                {
                    var taxon = house.Taxa.Single(t => t.Name == offer.Taxon);
                    var rate = taxon.UsualRate;
                    var mean = double.IsInfinity(rate.Certainty) ? rate.Mean
                        : new SeasonRandom(SeasonRandom.Split(rates, SeasonLists.Label(supplier.Name + "/" + taxon.Name))).NextBeta(rate.Mean * rate.Certainty, (1 - rate.Mean) * rate.Certainty);
                    var label = SeasonLists.Label($"{offer.Id}/{week}/0");
                    var own = double.IsInfinity(rate.LotConcentration) ? mean
                        : new SeasonRandom(SeasonRandom.Split(rates, label)).NextBeta(mean * rate.LotConcentration, (1 - mean) * rate.LotConcentration);
                    var each = new Fate[pupae];
                    new FateTable(taxon.Timing, taxon.Stock.Survival).Draw(new(SeasonRandom.Split(fates, label)), own, each);
                    animals.AddRange(each.Where(f => f.EmergesOn >= 0).Select(f => new Animal(taxon.Name, arrives + f.EmergesOn, arrives + f.EmergesOn + f.Flies)));
                }
            }
        }

        var flying = new List<int>();
        var (shortage, wishDays, days) = (0.0, 0, 0);
        for (var day = 0; day < setting.Weeks * 7; day++)
        {
            var there = animals.Where(a => a.From <= day && day < a.To).ToList();
            flying.Add(there.Count);
            var date = house.OrderDay.AddDays(day);
            if (day < setting.DaysBefore || !house.OpenDays!.Contains(date))
                continue;
            var missed = 0;
            foreach (var aim in house.Aims.OfType<DayAim>())
            {
                var of = there.Where(a => aim.Of.Counts(house.Taxa.Single(t => t.Name == a.Taxon).Taxon)).ToList();
                var missing = aim.AtLeast - (aim is VarietyAim ? of.Select(a => a.Taxon).Distinct().Count() : of.Count);
                if (missing > 0)
                {
                    missed++;
                    shortage += missing * (double)house.Settings.WorthOfOneShort!.Value * (aim.Importance == 2 ? 3 : 1);
                }
            }

            wishDays += missed;
            days += missed > 0 ? 1 : 0;
        }

        return new(flying, landed, shortage, wishDays, days);
    }
}
