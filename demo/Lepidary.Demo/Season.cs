using System.Globalization;
using System.Text;

namespace Lepidary.Demo;

/// <summary>Ten weeks in the invented house, pupa by pupa. It knows nothing of the product and shares no code with it.</summary>
internal sealed class Season
{
    private const int FirstDay = -70;
    private const string Hall = "Palm hall";
    private const string Corner = "Breeding corner";
    private static readonly string[] Keepers = ["Marit", "Joss", "Anwen"];

    private readonly List<Event> _events = [];
    private readonly List<Adult> _adults = [];
    private readonly Dictionary<char, int> _rows = [];
    private readonly List<(char Cage, int Row, int From, int To)> _taken = [];

    private Season()
    {
    }

    public History History { get; } = new();

    /// <summary>What becomes of one pupa.</summary>
    private enum Fate
    {
        Male,
        Female,
        Crippled,
        Dead,
        Parasitised,
        Missing,
    }

    public static Season Run()
    {
        Season season = new();
        season.ReadLists();
        for (int week = FirstDay; week < 0; week += 7)
        {
            season.OrderAndTakeIn(week);
        }

        Husbandry.Broods(season.History, season.Hang);
        season.MakeRounds();
        season.SweepAndWalk();
        Husbandry.ReadClimate(season.History, FirstDay);
        return season;
    }

    private static string Time(int minutes) => string.Create(CultureInfo.InvariantCulture, $"{minutes / 60:00}:{minutes % 60:00}");

    /// <summary>Who works a day: one keeper most of it, at weekends always the same.</summary>
    private static string OnDuty(int day, string job) =>
        Weekday(day) is DayOfWeek.Saturday or DayOfWeek.Sunday
            ? Keepers[1 + (Math.Abs(day / 7) % 2)]
            : Keepers[new Chance(Truth.Seed, "duty", day, job).Whole(0, 2)];

    private static DayOfWeek Weekday(int day) => History.OrderDate.AddDays(day).DayOfWeek;

    private void ReadLists()
    {
        for (int day = -133; day <= 0; day += 7)
        {
            History.Lists.AddRange(Supplier.All.Select(s => new History.ListRead(s.Name, day, ListFiles.PathOf(s, day))));
        }
    }

    private void OrderAndTakeIn(int day)
    {
        bool longHaul = day / 7 % 2 != 0;
        int wanted = day <= FirstDay + 7 ? 200 : 148;
        (Supplier Supplier, int Pupae)[] plan = longHaul
            ? [(Supplier.Quillfeather, wanted * 35 / 100), (Supplier.Brackenfold, wanted * 25 / 100), (Supplier.Kessom, 64)]
            : [(Supplier.Quillfeather, wanted * 55 / 100), (Supplier.Brackenfold, wanted * 45 / 100)];
        foreach ((Supplier supplier, int pupae) in plan)
        {
            History.Order order = Buyer.Order(Market.Week(supplier, day), pupae, OnDuty(day, "order"));
            History.Orders.Add(order);
            if (order.Arrives <= 0)
            {
                TakeIn(supplier, order);
            }
        }
    }

    private void TakeIn(Supplier supplier, History.Order order)
    {
        Chance chance = new(Truth.Seed, "box", supplier.Key, order.Day);
        TrueSupplier truth = Truth.Of(supplier);
        int pupae = order.Lines.Sum(line => line.Pupae);
        string who = OnDuty(order.Arrives, "delivery");
        List<History.DeliveryLine> lines = [];
        foreach (History.OrderLine line in order.Lines)
        {
            int noted = chance.Happens(0.03) ? line.Pupae - 2 : line.Pupae;
            bool wrongSpecies = Oddities.WrongSpecies(supplier, order.Day, line);
            int gone = Oddities.Short(supplier, order, line);
            int dead = chance.HowMany(noted - gone, truth.DeadOnArrival);
            int damaged = chance.HowMany(noted - gone - dead, truth.Damaged);
            int emerged = chance.HowMany(noted - gone - dead - damaged, truth.EmergedInBox);
            int alive = noted - gone - dead - damaged - emerged;
            if (wrongSpecies)
            {
                string? came = Hang(Oddities.CameInstead, null, supplier, null, order.Arrives, alive, null);
                lines.Add(new(line.Taxon, line.Pupae, noted, 0, dead, damaged, emerged, alive, Oddities.WrongRemark, null));
                lines.Add(new(Oddities.CameInstead, 0, 0, alive, 0, 0, 0, 0, Oddities.CameRemark, came));
                continue;
            }

            string? lot = alive == 0
                ? null
                : Hang(line.Taxon, line.Form, supplier, null, order.Arrives, alive, supplier.Landed(line.Price, pupae));
            string? remark = gone > 0 ? Oddities.ShortRemark
                : noted < line.Pupae ? "note says two fewer than ordered"
                : emerged > 0 ? "came out in the box, wings ruined"
                : dead > 1 ? "black and soft" : null;
            lines.Add(new(line.Taxon, line.Pupae, noted, alive, dead, damaged, emerged, 0, remark, lot));
        }

        string box = string.Create(CultureInfo.InvariantCulture, $"{supplier.Key}-{order.Day + 100:00}");
        string condition = supplier.Key == 'K' && chance.Happens(0.5)
            ? "one heat pack cold, tissue damp"
            : chance.OneOf("dry and warm, packed in tissue", "dry, cool to the hand, cotton wool", "dry and warm, packed in cotton wool");
        History.Deliveries.Add(new(
            supplier.Name, order.Day, order.Arrives, Time(chance.Whole(9 * 60, (11 * 60) + 30)), who, box, condition, lines));
    }

    /// <summary>Hangs a lot and settles in secret what becomes of each pupa.</summary>
    private string Hang(string taxon, string? form, Supplier? supplier, string? brood, int day, int received, decimal? unitCost)
    {
        string id = string.Create(CultureInfo.InvariantCulture, $"L{History.Lots.Count + 1}");
        char cage = Husbandry.CageOf(taxon);
        Chance chance = new(Truth.Seed, "lot", id, taxon, day);
        TrueSpecies truth = Truth.Of(taxon);
        double rate = supplier is null ? Truth.OwnRate : Truth.Rate(taxon, supplier);
        double mean = supplier is null ? Husbandry.OwnPupaDays(taxon) : (truth.Days * Truth.Of(supplier).Pace) + (0.7 * chance.Bell());
        double sd = supplier is null ? 1.0 : truth.Sd;
        int close = day + (int)(mean + (2.5 * sd)) + 5;
        Urn whole = new(rate, truth.Likeness);
        Urn host = new(Math.Max(supplier is null ? 0 : Truth.Of(supplier).Parasitised, 1e-9), 3);
        for (int pupa = 0; pupa < received; pupa++)
        {
            bool parasitised = host.Draw(chance);
            bool emerges = whole.Draw(chance);
            bool female = chance.Happens(0.5);
            int days = Math.Max(1, (int)(mean + (sd * chance.Bell()) + (female ? 0.2 * sd : -0.2 * sd) + 0.5));
            int on = day + days;
            if (parasitised)
            {
                _events.Add(new(id, Math.Min(on + 2, close), Fate.Parasitised));
            }
            else if (emerges)
            {
                bool dried = cage == 'B' && on >= Truth.DrySpell.From && on <= Truth.DrySpell.To && chance.Happens(Truth.DryCripples);
                _events.Add(new(id, on, dried ? Fate.Crippled : female ? Fate.Female : Fate.Male));
            }
            else if (chance.Happens(0.25))
            {
                _events.Add(new(id, on, Fate.Crippled));
            }
            else
            {
                int seen = chance.Happens(0.4) ? chance.Whole(day + 2, close) : close;
                _events.Add(new(id, seen, chance.Happens(0.06) ? Fate.Missing : Fate.Dead));
            }
        }

        History.Lots.Add(new(
            id, taxon, form, supplier?.Name, brood, day, received, $"Cage {cage}",
            string.Create(CultureInfo.InvariantCulture, $"{cage}{Row(cage, day, _events.Where(e => e.Lot == id).Select(e => e.Day).DefaultIfEmpty(day).Max())}"), unitCost));
        return id;
    }

    /// <summary>The next row in which nothing else hangs meanwhile; in a cage that is full, the one in which the least does.</summary>
    private int Row(char cage, int from, int to)
    {
        int rows = Husbandry.RowsOf(cage), last = _rows.GetValueOrDefault(cage);
        int row = Enumerable.Range(last, rows).Select(next => (next % rows) + 1)
            .MinBy(next => _taken.Count(taken => taken.Cage == cage && taken.Row == next && taken.From <= to && from <= taken.To));
        _rows[cage] = row;
        _taken.Add((cage, row, from, to));
        return row;
    }

    private void MakeRounds()
    {
        var lots = History.Lots.ToDictionary(lot => lot.Id);
        for (int day = FirstDay; day <= 0; day++)
        {
            Chance chance = new(Truth.Seed, "round", day);
            string who = OnDuty(day, "round");
            int clock = (8 * 60) + chance.Whole(35, 50);
            foreach (var seen in _events.Where(e => e.Day == day).GroupBy(e => e.Lot))
            {
                History.Lot lot = lots[seen.Key];
                clock += chance.Whole(1, 4);
                bool sexed = Truth.Of(lot.Taxon).Sexed || Husbandry.IsBred(lot.Taxon) || chance.Happens(0.2);
                int males = seen.Count(e => e.Fate == Fate.Male);
                int females = seen.Count(e => e.Fate == Fate.Female);
                int dead = seen.Count(e => e.Fate == Fate.Dead);
                int parasitised = seen.Count(e => e.Fate == Fate.Parasitised);
                string? note = parasitised > 0 ? chance.OneOf("fly maggots, bagged and frozen", "small wasps, bagged and frozen", "round hole in the case")
                    : dead > 2 ? "row closed, opened the rest: dry" : null;
                History.Entries.Add(new(
                    lot.Id, day, Time(clock), who, sexed ? males : 0, sexed ? females : 0, sexed ? 0 : males + females,
                    seen.Count(e => e.Fate == Fate.Crippled), dead, parasitised, seen.Count(e => e.Fate == Fate.Missing), note));
                Release(lot, day, males, females, sexed, chance, who);
            }
        }

        Oddities.CountTwiceTooMany(History);
    }

    /// <summary>Small ones fly the same afternoon, large ones the next morning.</summary>
    private void Release(History.Lot lot, int emerged, int males, int females, bool sexed, Chance chance, string who)
    {
        bool next = lot.Cage != "Cage A";
        int day = next ? emerged + 1 : emerged;
        if (males + females == 0 || day > 0)
        {
            return;
        }

        bool corner = Husbandry.IsBred(lot.Taxon) && lot.Brood is null && males > 0 && females > 0 && chance.Happens(0.4);
        string to = corner ? Corner : Hall;
        int clock = next ? (10 * 60) + chance.Whole(0, 20) : (14 * 60) + chance.Whole(0, 50);
        History.Releases.Add(new(
            lot.Id, day, Time(clock), next ? OnDuty(day, "round") : who, sexed ? males : 0, sexed ? females : 0,
            sexed ? 0 : males + females, to));
        double life = Truth.Of(lot.Taxon).Life;
        for (int adult = 0; adult < males + females; adult++)
        {
            int days = chance.Happens(0.12)
                ? chance.Whole(1, 3)
                : Math.Max(1, (int)(((life - 0.24) / 0.88 * (chance.Unit() + chance.Unit() + chance.Unit()) / 1.5) + 0.5));
            _adults.Add(new(lot.Taxon, to, day, day + days));
        }
    }

    private void SweepAndWalk()
    {
        for (int day = FirstDay; day <= 0; day++)
        {
            Chance chance = new(Truth.Seed, "sweep", day);
            bool monday = Weekday(day) == DayOfWeek.Monday;
            string who = OnDuty(day, "sweep");
            foreach (var dead in _adults.Where(a => a.Dies == day).GroupBy(a => (a.Taxon, a.Area)).OrderBy(g => $"{g.Key.Taxon}|{g.Key.Area}", StringComparer.Ordinal))
            {
                int found = chance.HowMany(dead.Count(), monday ? Truth.FoundOnMonday : Truth.Found);
                if (found > 0)
                {
                    History.FoundDead.Add(new(dead.Key.Taxon, dead.Key.Area, day, found, who));
                }
            }

            if (Weekday(day) == DayOfWeek.Wednesday && day > FirstDay + 7)
            {
                Walk(day, chance);
            }
        }
    }

    private void Walk(int day, Chance chance)
    {
        string weather = chance.OneOf("sunny", "bright", "bright", "dull");
        double light = weather switch { "sunny" => 1.1, "bright" => 1.0, _ => 0.65 };
        var counts = _adults.Where(a => a.Area == Hall && a.Released < day && a.Dies > day)
            .GroupBy(a => a.Taxon).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new History.Sighting(g.Key, chance.HowMany(g.Count(), Math.Min(0.95, Truth.Of(g.Key).Seen * light))))
            .Where(s => s.Count > 0).ToList();
        History.Walks.Add(new(
            "Long path", day, Time((10 * 60) + chance.Whole(25, 40)), chance.Whole(20, 26), weather, OnDuty(day, "walk"), counts));
    }

    /// <summary>What the secret world holds, for the eye of whoever tunes it: never written to the history.</summary>
    public string Summary()
    {
        StringBuilder text = new();
        History h = History;
        for (int day = FirstDay + 7; day <= 0; day += 7)
        {
            var flying = _adults.Where(a => a.Released <= day && a.Dies > day).ToList();
            int hanging = h.Lots.Where(l => l.Day <= day).Sum(l => l.Received) - _events.Count(e => e.Day <= day);
            int pupae = h.Orders.Where(o => o.Day == day - 7).Sum(o => o.Lines.Sum(l => l.Pupae));
            text.Append(CultureInfo.InvariantCulture, $"day {day,4}: ordered the week before {pupae,4}, hanging {hanging,4}, flying {flying.Count,4} of {flying.Select(a => a.Taxon).Distinct().Count(),3} species\n");
        }

        text.Append(CultureInfo.InvariantCulture, $"lots {h.Lots.Count}, entries {h.Entries.Count}, species {h.Lots.Select(l => l.Taxon).Distinct().Count()}\n");
        text.AppendJoin(", ", _adults.Where(a => a.Dies > 0).GroupBy(a => a.Taxon).OrderByDescending(g => g.Count())
            .ThenBy(g => g.Key, StringComparer.Ordinal).Select(g => string.Create(CultureInfo.InvariantCulture, $"{g.Key} {g.Count()}")));
        return text.Append('\n').ToString();
    }

    private sealed record Event(string Lot, int Day, Fate Fate);

    private sealed record Adult(string Taxon, string Area, int Released, int Dies);
}
