using System.Buffers;
using Lepidary.App.House;
using Lepidary.App.Odds;
using Lepidary.App.Weeks;
using Lepidary.Book;
using Lepidary.Lists;
using Lepidary.Planning;
using Lepidary.Taxa;

namespace Lepidary.App.Orders;

/// <summary>A list read, with the terms of the supplier who sent it.</summary>
/// <param name="Terms">With their supplier.</param>
/// <param name="List">The list.</param>
/// <param name="FileName">For messages.</param>
/// <param name="ListId">Key of the list in the book; null for a file.</param>
internal sealed record ListOnOffer(SupplierTerms Terms, SupplierList List, string FileName, Guid? ListId = null);

/// <summary>All that a proposal is made from, wherever it was kept.</summary>
internal sealed record PlanningInput
{
    public required Book.House House { get; init; }

    public required IReadOnlyList<StockItem> Stock { get; init; }

    public required IReadOnlyList<ListOnOffer> Lists { get; init; }

    public required DateOnly OrderDay { get; init; }

    public IReadOnlyList<LineRule> Rules { get; init; } = [];

    /// <summary>What the season's orders before today have cost, landed, house currency.</summary>
    public decimal SeasonSpent { get; init; }

    /// <summary>What today's orders have settled with their suppliers.</summary>
    public IReadOnlyList<SettledLine> Settled { get; init; } = [];

    public Learned Learned { get; init; } = Learned.Nothing;

    /// <summary>What was in the mixes that came, by supplier and species.</summary>
    public IReadOnlyDictionary<Guid, IReadOnlyDictionary<string, int>> Mixes { get; init; } = new Dictionary<Guid, IReadOnlyDictionary<string, int>>();

    /// <summary>The suppliers' lists over the weeks; empty where there is no book.</summary>
    public IReadOnlyList<SupplierWeeks> Weeks { get; init; } = [];

    /// <summary>What later lists are likely to offer.</summary>
    public Ahead Ahead { get; init; } = Ahead.Nothing;

    public PlanSettings Settings { get; init; } = new();
}

/// <summary>A problem for the planner, with what a report needs to speak of it.</summary>
/// <param name="Problem">What is planned.</param>
/// <param name="Offers">Offers by id.</param>
/// <param name="NotOrderable">Lines that can't be ordered until the keeper settles something, and why.</param>
internal sealed record PlanningTask(
    PlanProblem Problem,
    IReadOnlyDictionary<string, (ListOnOffer From, Offer Offer)> Offers,
    IReadOnlyList<(string Supplier, Offer Offer, string Why)> NotOrderable);

/// <summary>Lays house, stock and lists out as one problem for the planner.</summary>
internal static class PlanningDesk
{
    /// <summary>Days that a plan looks ahead where no aim looks further: what arrives next week has emerged and mostly flown by then.</summary>
    private const int UsualHorizon = 28;
    private const int LongestHorizon = 56;

    /// <summary>
    /// Last day of an aim that names none: later days are for the orders of the weeks after. Over simulated seasons 18 days cost the least
    /// (14 days: 42 % more; 22 days: 1 % more).
    /// </summary>
    private const int UsualLastDay = 18;

    /// <summary>Days from a box to its first butterflies; an aim that names no first day begins there, where the order begins to tell.</summary>
    private const int FirstOut = 2;

    /// <summary>Weight of a packed pupa where the terms do not say, g. A choice of this project, no source.</summary>
    private const decimal UsualGrams = 5;

    /// <summary>How many pupae of unknown kinds a mix is taken to have shown before any was counted out: what it holds stays in part unknown. A choice of this project, no source.</summary>
    private const double UnknownOfMix = 5;

    /// <summary>Days in which a box is looked for that is not shut out; later ones are for later orders.</summary>
    private const int BoxDays = 28;

    private static readonly SearchValues<char> EndOfSubject = SearchValues.Create(",;|0123456789");

    public static Checked<PlanningTask> Lay(PlanningInput input, TaxonTable table)
    {
        var problems = new List<Problem>();
        var finder = new NameFinder(table);
        var stock = input.Stock.Select(item => (Item: item, Taxon: StockTaxon(item, table, finder, problems))).ToList();
        var keepNots = input.House.KeepNots
            .Select(keepNot => (keepNot, Selector: TaxonSelector.Read(keepNot.Selector, table, "keep-not")))
            .ToList();
        problems.AddRange(keepNots.SelectMany(item => item.Selector.Problems));
        var aims = Aims(input, table, problems);
        foreach (var from in input.Lists.Where(from => from.List.Currency is { } currency && currency != from.Terms.Currency))
        {
            problems.Add(new($"{from.FileName}, {from.Terms.Supplier!.Name}", $"a list in {from.List.Currency}", $"prices in {from.Terms.Currency}, as the supplier's terms say; correct the terms or the list"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var notOrderable = new List<(string, Offer, string)>();
        var offers = new Dictionary<string, (ListOnOffer From, Offer Offer)>(StringComparer.Ordinal);
        foreach (var from in input.Lists)
        {
            foreach (var offer in from.List.Offers)
            {
                if (WhyNotOrderable(offer) is { } why)
                {
                    notOrderable.Add((from.Terms.Supplier!.Name, offer, why));
                }
                else
                {
                    offers.Add(OfferId(from, offer), (from, offer));
                }
            }
        }

        var names = offers.Values.Select(item => item.Offer.Taxon).OfType<string>()
            .Concat(offers.Values.Where(item => item.Offer.Kind == OfferKind.Mix).SelectMany(item => MixOf(item.From, input)?.Keys ?? []))
            .Concat(stock.Select(item => item.Taxon.Name))
            .Concat(input.Settled.Select(line => line.Instead).OfType<string>())
            .Concat(aims.OfType<Planning.BreedingAim>().Select(aim => aim.Taxon))
            .Concat(aims.OfType<Planning.DisplayAim>().Where(aim => aim.Of.Kind == AimOfKind.Taxon && aim.Of.Name.Contains(' ', StringComparison.Ordinal)).Select(aim => aim.Of.Name))
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);
        var lastAimDay = input.House.Aims.Max(aim => aim.To)?.DayNumber - input.OrderDay.DayNumber;
        var horizon = Math.Clamp(lastAimDay ?? UsualHorizon, UsualHorizon, LongestHorizon);
        var settledWith = input.Settled.Select(line => offers[line.Offer].From.Terms.Supplier!.Name).ToHashSet(StringComparer.Ordinal);
        var problem = new PlanProblem
        {
            OrderDay = input.OrderDay,
            HorizonDays = horizon,
            Currency = input.House.Currency,
            Suppliers = [.. input.Lists.Select(from => Supplier(from, input.House, input.OrderDay)).DistinctBy(supplier => supplier.Name)
                // A box that is asked for is not asked for again: what is still wanted comes from others.
                .Select(supplier => supplier with { TakesNoMore = settledWith.Contains(supplier.Name) })],
            Offers = [.. offers.Select(item => PlanOffer(item.Key, item.Value.From, item.Value.Offer, input))],
            Taxa = [.. names.Select(name => PlanTaxon(table.Of(name), stock.Where(item => item.Taxon.Name == name).Select(item => item.Item), keepNots.Where(item => item.Selector.Value.Includes(table.Of(name))).Select(item => item.keepNot), input))],
            Aims = aims,
            OpenDays = [.. Enumerable.Range(0, horizon + 1).Select(input.OrderDay.AddDays).Where(input.House.IsOpen)],
            NoBoxesOn = input.House.NoBoxesOn ?? [],
            Budget = input.House.Budget,
            SeasonBudget = input.House.IsInSeason(input.OrderDay) ? Math.Max(0, input.House.SeasonBudget!.Value - input.SeasonSpent) : null,
            CagePlaces = input.House.Cages.Any(cage => cage.Use == CageUse.Emergence) ? input.House.Cages.Where(cage => cage.Use == CageUse.Emergence).Sum(cage => cage.Places) : null,
            CagePlacesOn = Enumerable.Range(0, horizon + 1).Select(input.OrderDay.AddDays)
                .Where(day => input.House.Cages.Exists(cage => cage.Use == CageUse.Emergence && !cage.IsInUse(day)))
                .ToDictionary(day => day, day => input.House.Cages.Where(cage => cage.Use == CageUse.Emergence && cage.IsInUse(day)).Sum(cage => cage.Places)),
            FlyingCeiling = input.House.Areas.Any(area => area.Ceiling is not null) ? input.House.Areas.Sum(area => area.Ceiling ?? 0) : null,
            LaterArrivals = [.. input.Ahead.Arrivals.Where(arrives => arrives.DayNumber - input.OrderDay.DayNumber <= horizon)],
            Rules = [.. LineRules.Spread(input.Rules, offers.Keys).Where(rule => input.Settled.All(line => line.Offer != rule.Offer))],
            Settled = input.Settled,
            Settings = input.Settings,
        };
        return new PlanningTask(problem, offers, notOrderable);
    }

    /// <summary>The key in a plan of a house's aim, by its place among them.</summary>
    public static string AimId(int index) => $"aim-{index + 1}";

    /// <summary>The key of an offer in a plan, readable and the same each time the list is read.</summary>
    public static string OfferId(ListOnOffer from, Offer offer) =>
        (offer.Sheet is null ? $"{from.Terms.Supplier!.Name}#{offer.Line}" : $"{from.Terms.Supplier!.Name}#{offer.Sheet}!{offer.Line}") + (offer.OnLine == 1 ? "" : $".{offer.OnLine}");

    /// <summary>The first such weekday after a day.</summary>
    public static DateOnly Next(DateOnly day, DayOfWeek weekday) =>
        day.AddDays((((int)weekday - (int)day.DayOfWeek + 6) % 7) + 1);

    /// <summary>
    /// The days on which a box of an order of this day can come: the first of the supplier's weekdays that leaves it the days it wants and on
    /// which neither it nor the house is shut, and where there is a second weekday, the first box of that one before the next week's.
    /// </summary>
    public static IReadOnlyList<DateOnly> Boxes(SupplierTerms terms, Book.House house, DateOnly orderDay)
    {
        var first = terms.ArrivesOn ?? DayOfWeek.Tuesday;
        var open = Enumerable.Range(1, BoxDays).Select(orderDay.AddDays)
            .Where(day => (day.DayOfWeek == first || day.DayOfWeek == terms.AlsoArrivesOn) && day.DayNumber - orderDay.DayNumber >= (terms.OrderAheadDays ?? 0)
                && terms.ClosedDays?.Contains(day) != true && house.NoBoxesOn?.Contains(day) != true)
            .ToList();
        // Shut for four weeks: the plan says so of the next box that there would be.
        return open.Count == 0 ? [Next(orderDay, first)] : [.. open.Where(day => day.DayNumber - open[0].DayNumber < 7).DistinctBy(day => day.DayOfWeek)];
    }

    /// <summary>True for a line that can be ordered as it stands.</summary>
    public static bool IsOrderable(Offer offer) => WhyNotOrderable(offer) is null;

    private static string? WhyNotOrderable(Offer offer) => offer switch
    {
        { Price: null } => "no price is printed",
        { Price: <= 0 } => $"the price of {offer.Price} can't be",
        { Kind: not OfferKind.Mix, Taxon: null } => offer.Doubts.Count > 0 ? offer.Doubts[0] : "the name is not settled",
        _ => null,
    };

    private static Taxon StockTaxon(StockItem item, TaxonTable table, NameFinder finder, List<Problem> problems)
    {
        // What stands in the book is an accepted name; only a house file may print another.
        if (table.Find(item.Taxon) is { } known)
        {
            return known;
        }

        var match = finder.Find(item.Taxon, NameContext.None);
        if (match.Taxon is { } taxon && match.Doubts.Count == 0)
        {
            return taxon;
        }

        problems.Add(new(
            $"stock, {item.Place.ToString().ToLowerInvariant()}",
            $"\"{item.Taxon}\"",
            match.Candidates.Count > 0 ? $"a species; perhaps {string.Join(" or ", match.Candidates.Take(3).Select(candidate => candidate.Name))}" : "the name of a species"));
        return table.All[0];
    }

    private static List<Planning.Aim> Aims(PlanningInput input, TaxonTable table, List<Problem> problems)
    {
        var house = input.House;
        var firstBox = input.Lists.Select(from => Boxes(from.Terms, house, input.OrderDay)[0]).DefaultIfEmpty(input.OrderDay).Min();
        var last = input.OrderDay.AddDays(UsualLastDay);
        var aims = new List<Planning.Aim>();
        foreach (var (aim, index) in house.Aims.Select((aim, index) => (aim, index)))
        {
            var of = AimOf.All;
            var named = "butterflies";
            if (aim.Selector != "all")
            {
                var selector = TaxonSelector.Read(aim.Selector, table, $"aim {index + 1}");
                problems.AddRange(selector.Problems);
                if (!selector.IsGood)
                {
                    continue;
                }

                of = selector.Value.Rank switch
                {
                    SelectorRank.Tag => AimOf.Tag(selector.Value.Text["tag:".Length..]),
                    SelectorRank.Species => AimOf.Taxon(selector.Value.Text),
                    _ => AimOf.By(selector.Value),
                };
                named = of.Name;
                if (aim.Kind == Book.AimKind.Breeding && selector.Value.Rank != SelectorRank.Species)
                {
                    problems.Add(new($"aim {index + 1}", aim.Selector, "one species to breed"));
                    continue;
                }
            }

            var id = AimId(index);
            var from = aim.From ?? firstBox.AddDays(FirstOut);
            var to = aim.To ?? (from > last ? from : last);
            IReadOnlyCollection<DayOfWeek> days = aim.Days is { } weekdays ? [.. weekdays.Days()] : [];
            aims.Add(aim.Kind switch
            {
                Book.AimKind.Display => new DisplayAim { Id = id, Words = $"{aim.AtLeast} {named}", Of = of, AtLeast = aim.AtLeast, Sure = aim.Sure, Importance = aim.Importance, From = from, To = to, Days = days },
                Book.AimKind.Variety => new VarietyAim { Id = id, Words = $"{aim.AtLeast} species", Of = of, AtLeast = aim.AtLeast, Sure = aim.Sure, Importance = aim.Importance, From = from, To = to, Days = days },
                Book.AimKind.Breeding => new BreedingAim { Id = id, Words = (aim.AtLeast == 1 ? $"a pair of {named}" : $"{aim.AtLeast} pairs of {named}") + (aim.NewBlood ? ", new blood" : ""), NewBlood = aim.NewBlood, Taxon = of.Name, Pairs = aim.AtLeast, Sure = aim.Sure, Importance = aim.Importance },
                _ => throw new InvalidOperationException($"Aim of kind {aim.Kind}."),
            });
        }

        return aims;
    }

    public static PlanSupplier Supplier(ListOnOffer from, Book.House house, DateOnly orderDay)
    {
        var terms = from.Terms;
        return new PlanSupplier
        {
            Name = terms.Supplier!.Name,
            Currency = terms.Currency,
            Rate = terms.Rate,
            // What the list itself says of tax is newer than the terms.
            PricesExcludeTax = from.List.PricesExcludeTax ?? terms.PricesExcludeTax,
            TaxRate = terms.TaxRate ?? house.TaxRate,
            CarriageTaxed = terms.CarriageTaxed,
            TaxReclaimed = house.TaxReclaimed,
            Arrives = Boxes(terms, house, orderDay),
            ClosedDays = terms.ClosedDays ?? [],
            Avoided = terms.Avoided,
            FavouredBy = (double)terms.FavouredBy,
            CarriageBy = terms.CarriageBy switch { CarriageCount.Goods => CarriageBy.Goods, CarriageCount.Grams => CarriageBy.Grams, _ => CarriageBy.Pupae },
            GramsPerPupa = (double)(terms.PupaGrams ?? UsualGrams),
            Carriage = [.. terms.Carriage.Select(tier => new CarriageStep(tier.From, tier.Cost))],
            Charges = [.. Charges(from)],
            MinimumPupae = terms.MinimumPupae ?? 0,
            MinimumGoods = terms.MinimumGoods ?? 0,
        };
    }

    /// <summary>The terms' charges; where the terms name neither carriage nor charges, those that the list prints.</summary>
    private static IEnumerable<PlanCharge> Charges(ListOnOffer from)
    {
        var terms = from.Terms;
        if (terms.Charges.Count > 0 || terms.Carriage.Count > 0)
        {
            return terms.Charges.Select(charge => new PlanCharge(charge.Name, charge.Amount, charge.Per == CountedBy.Box ? PlanChargePer.Box : PlanChargePer.Order, terms.BoxPupae ?? 200));
        }

        // Several sums for one thing ("Postage, up to 99 pupae", "Postage, 100 and more") are its steps. Which one holds is for the terms to
        // say; until then the dearest is reckoned with, so that no order turns out dearer than shown.
        return from.List.Charges.Where(charge => charge.Amount is > 0)
            .GroupBy(charge => Subject(charge.Text), StringComparer.OrdinalIgnoreCase)
            .Select(steps => steps.MaxBy(charge => charge.Amount)!)
            .Select(charge => new PlanCharge(charge.Text, charge.Amount!.Value, charge.Per == ChargePer.Box ? PlanChargePer.Box : PlanChargePer.Order, terms.BoxPupae ?? 200));
    }

    /// <summary>What a charge is for: its words before a comma or a figure.</summary>
    private static string Subject(string text)
    {
        var words = text.TrimStart(' ', ';', ',', '|', '\t');
        var end = words.AsSpan().IndexOfAny(EndOfSubject);
        return (end < 0 ? words : words[..end]).Trim();
    }

    private static IReadOnlyDictionary<string, int>? MixOf(ListOnOffer from, PlanningInput input) => input.Mixes.GetValueOrDefault(from.Terms.SupplierId);

    private static PlanOffer PlanOffer(string id, ListOnOffer from, Offer offer, PlanningInput input)
    {
        var plain = PlanOffer(id, from, offer);
        if (offer.Kind != OfferKind.Mix || MixOf(from, input) is not { } seen)
        {
            return plain;
        }

        var (shares, certainty) = MixShare.Learn([], UnknownOfMix, seen);
        return plain with { Mix = shares, MixCertainty = certainty };
    }

    private static PlanOffer PlanOffer(string id, ListOnOffer from, Offer offer) => new()
    {
        Id = id,
        Supplier = from.Terms.Supplier!.Name,
        Taxon = offer.Kind == OfferKind.Mix ? null : offer.Taxon,
        Price = offer.Price!.Value,
        BreaksHold = from.Terms.BreaksFromThere ? BreakHolds.FromThere : BreakHolds.ForAll,
        Breaks = [.. offer.Breaks.Select(step => new PriceFrom(step.From, step.Price))],
        Pack = offer.Pack,
        Minimum = offer.Minimum ?? 0,
        Available = offer.Available,
        SoldOut = offer.SoldOut,
        Text = offer.Text,
    };

    private static PlanTaxon PlanTaxon(Taxon taxon, IEnumerable<StockItem> stock, IEnumerable<KeepNot> keepNots, PlanningInput input)
    {
        var learned = input.Learned;
        var timing = learned.Timing(taxon);
        var items = stock.ToList();
        var limits = keepNots.ToList();
        var keepNot = limits.Find(limit => limit.AtMost is null);
        var atMost = limits.Min(limit => limit.AtMost);
        var own = StockOdds.Of(taxon, items, input.OrderDay, learned);
        return new PlanTaxon
        {
            Taxon = taxon,
            Timing = timing,
            Rates = input.Lists.Select(from => from.Terms.Supplier!.Name).Distinct().ToDictionary(name => name, name => learned.Rate(taxon, name)),
            UsualRate = learned.Rate(taxon, null),
            FemaleShare = learned.Sexes(taxon).Share.Females,
            Stock = own,
            Later = input.Ahead.Outlooks.GetValueOrDefault(taxon.Name)?.Later,
            KeepNot = keepNot is null ? null : keepNot.Reason.Length > 0 ? keepNot.Reason : "it is on the house's list of taxa not to keep",
            MostPupae = atMost is { } most ? Math.Max(0, most - own.Lots.Sum(lot => lot.Hanging) - (int)Math.Ceiling(own.Flying.Sum(group => group.Count * group.Alive) - 1e-9)) : null,
        };
    }
}
