using System.Globalization;
using System.Text.RegularExpressions;
using Lepidary.Lists.Words;
using Lepidary.Taxa;

namespace Lepidary.Lists.Reading;

/// <summary>Makes offers and charges of drafts: prices for one, numbers in pupae, and a doubt wherever that needed a guess.</summary>
internal sealed partial class OfferMaker
{
    /// <summary>What a pupa usually costs where a list gives no other measure. Common practice, no source.</summary>
    private const double UsualPrice = 2.5;

    /// <summary>A price from a number on that is so many times below the one before is asked about.</summary>
    private const int Steepest = 3;

    private readonly Statements statements;
    private readonly double usual;
    private readonly Dictionary<string, Number> numbers;
    private readonly Dictionary<Draft, Draft> sections;
    private readonly Dictionary<(Formats.Sheet, int, bool), double> perPack;

    private readonly char? decimalMark;
    private readonly HashSet<int> noMinimum;
    private readonly Dictionary<Formats.Sheet, int> sumFor;

    public OfferMaker(Statements statements, IReadOnlyList<Draft> drafts, char? decimalMark)
    {
        this.decimalMark = decimalMark;
        this.statements = statements;
        PricesInMinor(drafts);
        WholeAmountsInMinor(drafts);
        PacksBehindNames(drafts);
        numbers = UnexplainedNumbers(drafts);
        sections = Sections(drafts);
        usual = Usual(drafts);
        perPack = PerPack(drafts);
        var offers = drafts.Where(draft => draft.Kind == LineKind.Offer).ToList();
        sumFor = offers.GroupBy(draft => draft.Sheet).Select(sheet => (sheet.Key, Sum: SumFor([.. sheet], statements.For(sheet.First()).Numbers))).Where(pair => pair.Sum > 1).ToDictionary(pair => pair.Key, pair => pair.Sum);
        noMinimum = [.. offers.Select(draft => statements.For(draft).Minimum).OfType<int>().Distinct().Where(least => BeginsABreak(offers, least))];
        MostWithoutPrice = offers.Count(draft => !draft.HasPrice && Section(draft) is not { HasPrice: true }) * 10 > offers.Count * 7;
    }

    /// <summary>A list of what there is, without prices: said once and not on each line.</summary>
    public bool MostWithoutPrice { get; }

    /// <summary>Where a list says that its prices are in pence or cents, the first whole number behind a name is its price.</summary>
    private void PricesInMinor(IReadOnlyList<Draft> drafts)
    {
        foreach (var draft in drafts.Where(draft => draft is { Kind: LineKind.Offer, HasPrice: false, Unexplained.Count: > 0 } && statements.For(draft).PricesInMinor))
        {
            if (draft.Unexplained.FindIndex(number => number.Value >= 20 && !number.Place.EndsWith("in front", StringComparison.Ordinal)) is >= 0 and var at)
            {
                draft.Facts.Prices.Add(new PrintedPrice(draft.Unexplained[at].Value / 100m, FactReader.Minor, Marked: true));
                draft.Unexplained.RemoveAt(at);
            }
        }
    }

    /// <summary>
    /// "Papilio memnon x 10, 22.00" all down a list: where every price is what ten would cost and none what one would, the numbers are packs and the
    /// prices theirs.
    /// </summary>
    private static void PacksBehindNames(IReadOnlyList<Draft> drafts)
    {
        static bool IsTimes(Unexplained number) => number.Place.EndsWith("with x", StringComparison.Ordinal) && number.Value > 1;
        var offers = drafts.Where(draft => draft is { Kind: LineKind.Offer, Facts: { Pack: null, Mix: false, Prices: [{ From: 1, Per: null, Amount: > 0 }] } } && draft.Unexplained.Exists(IsTimes)).ToList();
        double Off(decimal price) => Math.Abs(Math.Log((double)price / UsualPrice));
        if (offers.Count < 3 || offers.Count(draft => Off(draft.Facts.Prices[0].Amount) > Off(draft.Facts.Prices[0].Amount / draft.Unexplained.Find(IsTimes)!.Value) + Math.Log(2)) * 10 < offers.Count * 9)
            return;
        foreach (var draft in offers)
        {
            draft.Facts.Pack = draft.Unexplained.Find(IsTimes)!.Value;
            draft.Facts.Prices[0] = draft.Facts.Prices[0] with { Per = 0 };
            draft.Unexplained.RemoveAll(IsTimes);
        }
    }

    /// <summary>Currencies in which a pupa costs a few units. Common practice, no source.</summary>
    private static readonly HashSet<string> FewUnits = ["GBP", "EUR", "USD", "CHF", "CAD", "AUD", "NZD"];

    /// <summary>Whole amounts that are all as high as this are pence or cents, where the currency is one in which a pupa costs a few units.</summary>
    private const decimal LeastMinor = 40, UsualMinor = 100;

    /// <summary>"260" in a column of prices of a list in pounds is two pounds sixty, where every price is such a number.</summary>
    private void WholeAmountsInMinor(IReadOnlyList<Draft> drafts)
    {
        if (statements.Currency is not { } currency || !FewUnits.Contains(currency))
            return;
        var offers = drafts.Where(draft => draft is { Kind: LineKind.Offer, InTable: true, HasPrice: true, Facts.Mix: false }).ToList();
        var amounts = offers.SelectMany(draft => draft.Facts.Prices).ToList();
        if (offers.Count < 4 || !amounts.TrueForAll(price => price.Currency is null && price.Per is null or 1 && price.Amount >= LeastMinor && price.Amount < 10_000 && price.Amount == decimal.Truncate(price.Amount)))
            return;
        var sorted = amounts.ConvertAll(price => price.Amount).Order().ToList();
        if (sorted[sorted.Count / 2] < UsualMinor || sorted.Count(amount => amount % 5 == 0) * 10 < sorted.Count * 8)
            return;
        foreach (var draft in offers)
        {
            for (var i = 0; i < draft.Facts.Prices.Count; i++)
                draft.Facts.Prices[i] = draft.Facts.Prices[i] with { Amount = draft.Facts.Prices[i].Amount / 100, Currency = FactReader.Minor };
        }
    }

    /// <summary>
    /// The number whose sums the second of two prices are on every line of a sheet, and of which the list speaks; 0 for none. A sum for ten lies between
    /// seven and ten times the price of one.
    /// </summary>
    private static int SumFor(List<Draft> offers, IReadOnlySet<int> spoken)
    {
        var ratios = offers.Where(draft => draft.Facts is { Prices: [{ From: 1, Per: null or 1, Amount: > 0 }, { From: 1, Per: null }], Mix: false }).Select(draft => draft.Facts.Prices[1].Amount / draft.Facts.Prices[0].Amount).ToList();
        if (ratios.Count < 3)
            return 0;
        var fit = spoken.Where(number => number > 1 && ratios.TrueForAll(ratio => ratio <= number && ratio >= number * 0.7m)).ToList();
        return fit.Count == 1 ? fit[0] : 0;
    }

    /// <summary>What was taken for the smallest number of each species is where the second price of the offers begins, and no minimum.</summary>
    private bool BeginsABreak(List<Draft> offers, int least)
    {
        var priced = offers.FindAll(draft => draft.HasPrice && statements.For(draft).Minimum == least);
        return priced.Count(draft => draft.Facts.Prices.Exists(price => price.From == least) || statements.For(draft).PercentBreaks.Any(step => step.From == least) || statements.For(draft).AmountsOff.Any(step => step.From == least) || (draft.Facts.Prices.Count > 1 && statements.For(draft).Thresholds.Contains(least))) * 2 > priced.Count;
    }

    private enum Number
    {
        Available,
        AvailableOrPack,
        Counting,
    }

    /// <summary>Median of the prices that can only be for one.</summary>
    private double Usual(IReadOnlyList<Draft> drafts)
    {
        var prices = drafts
            .Where(draft => draft.Kind == LineKind.Offer && !draft.Facts.Mix && PackOf(draft) == 1)
            .SelectMany(draft => draft.Facts.Prices.Where(price => price is { From: 1, Per: null or 1, Amount: > 0 }).Take(1).Select(price => (double)price.Amount / (price.Per ?? statements.For(draft).PricesPer ?? 1)))
            .Order()
            .ToList();
        return prices.Count < 5 ? UsualPrice : prices[prices.Count / 2];
    }

    /// <summary>
    /// Decides for all numbers that stand alike at once: counting 1, 2, 3 they number the lines; varied they are what is on hand; a few round
    /// ones can also be packs.
    /// </summary>
    private static Dictionary<string, Number> UnexplainedNumbers(IReadOnlyList<Draft> drafts) => drafts
        .Where(draft => draft.Kind == LineKind.Offer)
        .SelectMany(draft => draft.Unexplained.DistinctBy(number => number.Place))
        .GroupBy(number => number.Place)
        .ToDictionary(group => group.Key, group => Decide([.. group.Select(number => number.Value)]));

    private static Number Decide(List<int> values)
    {
        if (values.Count > 2 && values.Zip(values.Skip(1)).Count(pair => pair.Second == pair.First + 1) >= (values.Count - 1) * 0.8)
            return Number.Counting;
        var packs = values.TrueForAll(value => value is 1 or 2 or 3 or 5 or 6 or 10 or 12 or 20 or 25);
        return values.Distinct().Count() > 4 || (values.Count > 2 && !packs) || values.Exists(value => value > 100) ? Number.Available : Number.AvailableOrPack;
    }

    public Offer Offer(Draft draft)
    {
        var facts = draft.Facts;
        var doubts = new List<string>(draft.Doubts);
        doubts.AddRange(facts.Unread.Select(text => $"\"{text}\" is not understood: say what it means."));
        if (draft.Struck || (!draft.HasPrice && Section(draft) is { HasPrice: false } heading && (heading.Says(Meaning.SoldOut) || heading.Says(Meaning.Later))))
            facts.SoldOut = true;
        // A list of this week with a part for the next.
        if (Section(draft) is { IsLaterSection: true } later && draft.HasPrice && !facts.SoldOut)
            doubts.Add($"It stands below \"{later.Text.Trim()}\": it seems not to be on hand yet.");
        Explain(draft, doubts);
        var kind = Kind(draft);
        var name = draft.Named.Match;
        var form = kind == OfferKind.Mix ? null : draft.FormText ?? name.Form;
        if (kind != OfferKind.Mix)
        {
            doubts.AddRange(name.Doubts);
            if (name.Taxon is null && name.Doubts.Count == 0)
                doubts.Add(name.Candidates.Count > 0 ? "The name can mean several species: choose one." : "No species is known by this name: say which it is, or that the line is no offer.");
        }
        // Where the list says that its prices are for packs, "5 pcs 10,75" tells the pack, not what is on hand.
        if (statements.For(draft).PricesPerPack == true && facts is { Pack: null, Available: > 1 and <= 50 } && !draft.InTable)
            (facts.Pack, facts.Available) = (facts.Available, null);
        var pack = PackOf(draft);
        if (facts.Pack == 0)
            doubts.Add("A pack of 0 stands on the line: ask the supplier for the pack size.");
        var (price, breaks, packUsed, minimumByPrice, availableUsed) = Prices(draft, pack, kind, doubts);
        pack = packUsed;
        var available = availableUsed ? null : facts.Available;
        var minimum = facts.Minimum ?? minimumByPrice ?? Section(draft)?.Facts.Minimum ?? (kind == OfferKind.Mix || statements.For(draft).Minimum is { } ofEach && noMinimum.Contains(ofEach) ? null : statements.For(draft).Minimum);
        // What a list means by a column that is not understood may be the very fact that the line lacks: no line stands silently without it.
        if (draft.LeftOut.Count > 0 && !facts.SoldOut && (price is null || (available is null && !facts.InStock)))
            doubts.Add($"The column \"{draft.LeftOut[0]}\" is not understood, and the line shows no {(price is null ? "price" : "number available")}: say what the column holds.");
        if (draft.Row.Hidden)
            doubts.Add("The row is hidden in the workbook: ask the supplier whether it is on offer.");
        if (available is 0)
            facts.SoldOut = true;
        if (minimum is > 100_000 || available is > 1_000_000)
            doubts.Add("A number on the line is too large to be meant: check it.");
        return new Offer
        {
            Line = draft.Line,
            Sheet = draft.Sheet.Name,
            OrderCell = draft.OrderColumn is { } order ? new OrderCell(order.Index + 1, order.Says.InPacks || (order.Says.Per is null && ForPack(draft, price, pack)) ? pack : 1) : null,
            Text = draft.Text,
            PrintedName = draft.Named.Text ?? (draft.InTable && kind != OfferKind.Mix ? draft.NameTexts.FirstOrDefault() : null),
            Taxon = kind == OfferKind.Mix ? null : name.Taxon?.Name,
            Form = form,
            Kind = kind,
            Price = price,
            Breaks = breaks,
            Pack = pack,
            Minimum = minimum is null ? null : facts.MinimumInPacks && facts.Minimum is not null ? Pupae(minimum.Value, pack) : minimum,
            Available = available is null ? null : facts.AvailableInPacks || (pack > 1 && draft.InTable && statements.For(draft).StockInPacks) ? Pupae(available.Value, pack) : available,
            SoldOut = facts.SoldOut,
            Note = NoteOf(draft),
            CommonName = draft.CommonName,
            Candidates = name.Taxon is null || name.Doubts.Count > 0 ? [.. name.Candidates.Select(taxon => taxon.Name)] : [],
            Doubts = [.. doubts.Distinct()],
        };
    }

    private static int Pupae(int packs, int pack) => (int)Math.Min((long)packs * pack, int.MaxValue);

    /// <summary>Pupae a pack: said on the line, by the heading over it or for the whole list.</summary>
    private int PackOf(Draft draft) => Math.Clamp(draft.Facts.Pack ?? Section(draft)?.Facts.Pack ?? (draft.Facts.Mix ? null : statements.For(draft).Pack) ?? 1, 1, 10_000);

    private OfferKind Kind(Draft draft)
    {
        var match = draft.Named;
        if (draft.Facts.Mix && !(match.Scientific && match.Match.By is not MatchedBy.NewBinomial) && !(match.Sure && match.Match.By == MatchedBy.CommonName))
            return OfferKind.Mix;
        if (draft.Facts.Cocoon)
            return OfferKind.Cocoon;
        if (match.Match.Taxon?.Kind == PostedKind.Cocoon && !draft.Facts.Pupa)
            return OfferKind.Cocoon;
        return Section(draft)?.Facts.Cocoon == true && match.Match.Taxon?.InTable != true ? OfferKind.Cocoon : OfferKind.Pupa;
    }

    private Draft? Section(Draft draft) => sections.GetValueOrDefault(draft);

    private static Dictionary<Draft, Draft> Sections(IReadOnlyList<Draft> drafts)
    {
        var sections = new Dictionary<Draft, Draft>();
        foreach (var block in drafts.GroupBy(draft => (draft.Sheet, draft.Block)))
        {
            Draft? last = null;
            var offered = false;
            foreach (var draft in block)
            {
                if (draft.Kind == LineKind.Heading)
                    (last, draft.IsLaterSection) = (draft, offered && draft.Words <= 5 && draft.Says(Meaning.Later));
                offered |= draft.Kind == LineKind.Offer;
                if (draft.Kind != LineKind.Heading && last is not null)
                    sections[draft] = last;
            }
        }
        return sections;
    }

    /// <summary>Gives the numbers that nothing explains the meaning that they have all down the list.</summary>
    private void Explain(Draft draft, List<string> doubts)
    {
        foreach (var number in draft.Unexplained)
        {
            // "Mixed swallowtails (10) 18.00": what the price pays for.
            if (draft.Facts.Mix && !draft.Named.Scientific && draft.Facts is { Pack: null, Prices: [{ From: 1, Per: null } sum] } && number.Value > 1 && Distance(sum.Amount) > Distance(sum.Amount / number.Value) + Math.Log(2))
            {
                draft.Facts.Pack = number.Value;
                continue;
            }
            // "40 @ 2.20": so many at that price.
            if (number.Place == "at a price" && draft.Facts is { Available: null, Prices.Count: 1 })
            {
                draft.Facts.Available = number.Value;
                continue;
            }
            switch (numbers.GetValueOrDefault(number.Place, Number.AvailableOrPack))
            {
                case Number.Counting:
                    break;
                case Number.Available when draft.Facts.Available is null:
                    draft.Facts.Available = number.Value;
                    break;
                case Number.AvailableOrPack when draft.Facts.Available is null && draft.Facts.Pack is null:
                    draft.Facts.Available = number.Value;
                    doubts.Add($"{number.Value} may be the number available or a pack size: it was taken as available.");
                    break;
                default:
                    if (number.Value != draft.Facts.Available)
                        doubts.Add($"It is not clear what {number.Value} means on this line: check it.");
                    break;
            }
        }
        draft.Unexplained.Clear();
    }

    private sealed record Priced(decimal? Price, IReadOnlyList<PriceBreak> Breaks, int Pack, int? Minimum, bool AvailableUsed);

    private Priced Prices(Draft draft, int pack, OfferKind kind, List<string> doubts)
    {
        var facts = draft.Facts;
        var rules = statements.For(draft);
        var prices = facts.Prices.ConvertAll(price => rules.PricesInMinor && price is { Currency: null, Amount: >= 10 } && price.Amount == decimal.Truncate(price.Amount) ? price with { Amount = price.Amount / 100 } : price);
        if (prices.Count == 0 && facts.OldPrices.Count > 0 && !facts.SoldOut)
            doubts.Add("Only a struck or former price is printed: ask the supplier for the price.");
        if (prices.Count == 0 && Section(draft) is { HasPrice: true } section)
            prices.AddRange(section.Facts.Prices);
        if (prices.Count == 0 && rules.Price is { } forAll)
            prices.Add(forAll);
        if (prices.Count == 0)
        {
            // "Price on request" leaves nothing in doubt: it has none yet.
            if (!facts.SoldOut && !draft.Says(Meaning.OnRequest) && (!MostWithoutPrice || draft.BelowPriceTitle) && facts.OldPrices.Count == 0)
                doubts.Add("No price is printed: ask the supplier for it.");
            return new Priced(null, [], pack, null, false);
        }
        if (facts.PriceForOne)
            prices = prices.ConvertAll(price => price.Per is null ? price with { Per = 1 } : price);
        // A list in two currencies: the prices in its own are meant.
        if (prices.Exists(price => price.Currency == statements.Currency) && prices.Exists(price => price.Currency is not null && price.Currency != statements.Currency))
            prices.RemoveAll(price => price.Currency is not (null or FactReader.Minor) && price.Currency != statements.Currency);
        // "2.60 2.40 (was 2.60)"
        if (prices.Count > 1)
            prices.RemoveAll(price => price.From == 1 && facts.OldPrices.Exists(old => old.Amount == price.Amount));
        // "2.40 / 22.00 / 100.00" where the list says what each is for.
        if (!draft.InTable && rules.PriceSteps.Count == prices.Count && prices.Count > 1 && prices.TrueForAll(price => price is { From: 1, Per: null }))
            prices = [.. prices.Select((price, i) => i == 0 ? price with { Per = 1 } : price with { From = rules.PriceSteps[i] })];
        // "From 20 of a species the second price holds": two prices that nothing else tells apart, the second a little lower.
        if (pack == 1 && rules.Thresholds.Count > 0 && prices.Count == rules.Thresholds.Count + 1 && prices.TrueForAll(price => price is { From: 1, Per: null or 1 })
            && prices.Zip(prices.Skip(1)).All(pair => pair.Second.Amount <= pair.First.Amount && pair.Second.Amount * Steepest > pair.First.Amount))
            prices = [.. prices.Select((price, i) => i == 0 ? price with { Per = 1 } : price with { From = rules.Thresholds[i - 1], Per = 1 })];
        // "2.60, 24.00" all down a list that speaks of ten: what one costs and what ten cost.
        if (pack == 1 && prices is [{ From: 1, Per: null or 1 } oneOf, { From: 1, Per: null } sumOf] && sumFor.TryGetValue(draft.Sheet, out var together2) && together2 * oneOf.Amount >= sumOf.Amount && sumOf.Amount * 2 > together2 * oneOf.Amount)
            prices = [oneOf with { Per = 1 }, sumOf with { From = together2 }];
        // "3,70, 10er-Pack 34,00": a price for one and, a little below it, for the pack.
        if (pack > 1 && prices.FindAll(price => price is { From: 1, Per: null }) is [{ } forOne, { } together] && prices.Count == 2 && together.Amount < forOne.Amount * pack && together.Amount * 2 > forOne.Amount * pack)
        {
            prices = [forOne with { Per = 1 }, together with { Per = pack }];
        }
        if (facts.FromPrice)
            doubts.Add("The price is a from-price: ask the supplier for the exact one.");

        var availableUsed = false;
        // "Mixture, 50 pupae, 85.00": the pupae are what the price pays for.
        if (pack == 1 && kind == OfferKind.Mix && facts.Available is { } pieces and > 1 && prices is [{ Per: null or 1, From: 1 } whole] && Closer(whole.Amount, pieces))
        {
            (pack, availableUsed) = (pieces, true);
            prices = [whole with { Per = 0 }];
            if (whole.Per == 1)
                doubts.Add($"{Shown(whole.Amount)} stands in a column of prices for one and was taken to be for all {pieces}: check it.");
        }
        if (pack == 1 && facts.Lot is { } lot && prices.TrueForAll(price => price.Per == lot))
            pack = lot;
        // "par 10" over prices a little below the single one: a break, and no price for ten together.
        if (prices.Find(price => price is { From: 1, Per: null or 1 }) is { Amount: > 0 } plainly)
            prices = prices.ConvertAll(price => price.Per is > 1 && price.Amount <= plainly.Amount && price.Amount * 4 > plainly.Amount ? price with { From = price.Per.Value, Per = 1 } : price);
        if (pack == 1 && draft.InTable && facts.Pack is null && !facts.Mix && prices.Exists(price => price is { From: 1, Per: 0 }) && !prices.Exists(price => price is { From: 1, Per: 1 }))
            doubts.Add("The price is for a pack, and how many a pack holds is not printed: it was taken for one. Ask the supplier.");
        // 11.75 a pack of 5 beside 2.35 each are one price, up to the rounding of the second.
        if (pack > 1 && prices.Find(price => price is { From: 1, Per: 1 }) is { } printedEach)
            prices.RemoveAll(price => price is { From: 1, Per: 0 } && Math.Abs((price.Amount / pack) - printedEach.Amount) <= 0.0051m);
        var single = prices.Where(price => price.From == 1).ToList();
        var one = single.Select(price => (price, each: Each(draft, price, pack, doubts))).ToList();
        var distinct = one.Select(pair => pair.each).Distinct().ToList();
        decimal? basePrice = null;
        var breaks = new List<PriceBreak>();
        if (distinct.Count == 1)
        {
            basePrice = distinct[0];
        }
        else if (distinct.Count > 1)
        {
            // "2.40 each, 20.00 per 10": the price for several is a break.
            var plain = one.Where(pair => pair.price.Per is null or 1).Select(pair => pair.each).Distinct().ToList();
            if (plain.Count == 1 && one.TrueForAll(pair => pair.price.Per is null or 1 or > 1 or 0))
            {
                basePrice = plain[0];
                breaks.AddRange(one.Where(pair => pair.price.Per is > 1 or 0 && pair.each < basePrice).Select(pair => new PriceBreak(pair.price.Per is > 1 and var several ? several : Math.Max(pack, 2), pair.each)));
                if (pack > 1 && one.Exists(pair => pair.price.Per == 0 || pair.price.Per == pack))
                    pack = 1;
            }
            else
            {
                basePrice = (plain.Count > 0 ? plain : distinct)[0];
                doubts.Add($"Several prices stand on the line ({string.Join(", ", distinct.Select(Shown))}) and nothing tells them apart: {Shown(basePrice.Value)} was taken.");
            }
        }
        foreach (var price in prices.Where(price => price.From > 1))
        {
            var each = Each(draft, price, 1, doubts);
            // A price from ten that is many times the single one is for all ten.
            if (basePrice is { } single1 && each > single1 * 1.5m && each / price.From <= single1)
                each = decimal.Round(each / price.From, 4);
            breaks.Add(new PriceBreak(price.From, each));
        }
        if (basePrice is { } full and > 0)
        {
            var less = facts.PercentBreaks.Count > 0 ? facts.PercentBreaks : breaks.Count == 0 && kind != OfferKind.Mix ? rules.PercentBreaks : [];
            breaks.AddRange(less.Select(step => new PriceBreak(step.From, decimal.Round(full * (100 - step.Percent) / 100, full < 0.5m ? 4 : 2, MidpointRounding.AwayFromZero))));
        }
        if (basePrice is > 0 && breaks.Count == 0 && kind != OfferKind.Mix && facts.PercentBreaks.Count == 0)
            breaks.AddRange(rules.AmountsOff.Where(step => step.Less * 2 < basePrice).Select(step => new PriceBreak(step.From, basePrice.Value - step.Less)));
        int? minimum = null;
        breaks = [.. breaks.GroupBy(one => one.From).Select(group => group.MinBy(one => one.Price)!).OrderBy(one => one.From)];
        if (basePrice is null && breaks.Count > 0)
        {
            (basePrice, minimum) = (breaks[0].Price, breaks[0].From);
            breaks.RemoveAt(0);
        }
        var last = basePrice;
        var kept = new List<PriceBreak>();
        foreach (var step in breaks)
        {
            if (step.Price * Steepest < last)
                doubts.Add($"From {step.From} the price is {Shown(step.Price)}, far below {Shown(last.Value)} for fewer: check that it is a price.");
            if (step.Price > last)
                doubts.Add($"From {step.From} the price is higher ({Shown(step.Price)}) than for fewer ({Shown(last.Value)}): check it.");
            if (step.Price != last)
                kept.Add(step);
            last = step.Price;
        }
        return new Priced(basePrice, kept, pack, minimum, availableUsed);
    }

    /// <summary>True where the price printed is the one of a pack: an order form reckons number times price, so its number counts packs.</summary>
    private static bool ForPack(Draft draft, decimal? each, int pack) =>
        pack > 1 && draft.Facts.Prices.Find(price => price.From == 1) is { Amount: var printed } && decimal.Round(printed / pack, 4) == each;

    /// <summary>What is asked where nothing tells whether a price is for a pack; the same words wherever it is looked for.</summary>
    internal const string MayBeForThePack = "may be the price of one or of the pack of";

    private static string Shown(decimal price) => price.ToString("0.00##", CultureInfo.InvariantCulture);

    private double Distance(decimal price) => price <= 0 ? double.PositiveInfinity : Math.Abs(Math.Log((double)price / usual));

    private bool Closer(decimal price, int pieces) => Distance(price / pieces) < Distance(price);

    /// <summary>The price for one pupa.</summary>
    private decimal Each(Draft draft, PrintedPrice price, int pack, List<string> doubts)
    {
        var rules = statements.For(draft);
        if ((price.Per ?? rules.PricesPer) is > 1 and var several)
            return decimal.Round(price.Amount / several, 4);
        if (price.Per == 1 || pack == 1 || price.Amount <= 0)
            return price.Amount;
        var forPack = decimal.Round(price.Amount / pack, 4);
        if (price.Per == 0 || rules.PricesPerPack == true)
            return forPack;
        // "All prices each" is said of species; of a mixed box the price tells by itself.
        if (draft.Facts.Mix)
            return Distance(forPack) < Distance(price.Amount) ? forPack : price.Amount;
        if (rules.PricesPerPack == false)
        {
            if (Distance(price.Amount) - Distance(forPack) > Math.Log(4))
                doubts.Add($"{Shown(price.Amount)} {MayBeForThePack} {pack}: it was taken for one.");
            return price.Amount;
        }
        var (all, one) = (perPack.GetValueOrDefault((draft.Sheet, draft.Block, draft.InTable)), Distance(price.Amount) - Distance(forPack));
        // All rows of a table mean their prices alike; a row that by itself says the contrary loudly is asked about.
        var packWins = all > 0;
        if (Math.Abs(all) < Math.Log(2) || (Math.Sign(all) != Math.Sign(one) && Math.Abs(one) > Math.Log(4)))
            doubts.Add($"{Shown(price.Amount)} {MayBeForThePack} {pack}: it was taken for {(packWins ? "the pack" : "one")}.");
        return packWins ? forPack : price.Amount;
    }

    /// <summary>
    /// For the rows of a table together, how far prices for a pack lie nearer to the usual price than prices for one do, in logarithms: above
    /// zero the prices are for packs.
    /// </summary>
    private Dictionary<(Formats.Sheet, int, bool), double> PerPack(IReadOnlyList<Draft> all) => all
        .Where(draft => draft.Kind == LineKind.Offer && !draft.Facts.Mix && PackOf(draft) > 1)
        .SelectMany(draft => draft.Facts.Prices.Where(price => price is { From: 1, Per: null, Amount: > 0 }).Select(price => (draft, price)))
        .GroupBy(pair => (pair.draft.Sheet, pair.draft.Block, pair.draft.InTable))
        .ToDictionary(group => group.Key, group => group.Sum(pair => Distance(pair.price.Amount) - Distance(pair.price.Amount / PackOf(pair.draft))));

    private static string? NoteOf(Draft draft)
    {
        var texts = draft.NameTexts.Where(text => text != draft.Named.Text && !(draft.Named.Text ?? "").Contains(text, StringComparison.Ordinal) && !text.Equals(draft.CommonName, StringComparison.Ordinal));
        var note = string.Join("; ", texts.Concat(draft.Facts.Remarks).Append(draft.Note).Where(text => !string.IsNullOrWhiteSpace(text)).Distinct());
        return note.Length == 0 ? null : note;
    }

    /// <summary>The charges that stand beside an offer's own price.</summary>
    public static IEnumerable<Charge> BesideOffer(Draft draft) => draft.Facts.Charges.Select(charge => new Charge(draft.Line, draft.Text, charge.Price.Amount, Per(charge.Says)));

    /// <summary>The charges of a row: each price with the words around it, up to the next.</summary>
    public IEnumerable<Charge> Charges(Draft draft)
    {
        // What was set apart as a charge beside a price is a charge like the others here.
        draft.Facts.Prices.AddRange(draft.Facts.Charges.Select(charge => charge.Price));
        draft.Facts.Charges.Clear();
        if (draft.Facts.Prices.Count == 0)
            return [new Charge(draft.Row.Number, draft.Text, null, Per(draft.Meanings))];
        var counted = draft.Says(Meaning.PerBox) || draft.Says(Meaning.PerOrder) || draft.Says(Meaning.PerShipment) || draft.Says(Meaning.PerPermit);
        if (draft.Facts.Prices.Select(price => price.Amount).Distinct().Count() == 1 && !draft.AmountBesideName && (counted || draft.InTable || draft.Row.Content.Count() > 1))
            return [new Charge(draft.Row.Number, draft.Text, draft.Facts.Prices[0].Amount, Per(draft.Meanings))];
        var charges = new List<Charge>();
        foreach (var part in Parts().Split(draft.Spoken))
        {
            var prices = FactReader.Read(part, decimalMark).Prices;
            if (prices.Count == 0)
                continue;
            var meanings = Tokeniser.Cut(part, decimalMark).SelectMany(token => token.Meanings).ToHashSet();
            charges.AddRange(prices.Select(price => new Charge(draft.Row.Number, draft.Text, price.Amount, Per(meanings.Count > 0 && Classifier.IsCharge(meanings) ? meanings : draft.Meanings))));
        }
        return charges.Count > 0 ? charges : draft.Facts.Prices.Select(price => new Charge(draft.Row.Number, draft.Text, price.Amount, Per(draft.Meanings)));
    }

    /// <summary>Where one charge ends and the next begins: a comma, full stop, semicolon, bar or slash with space around.</summary>
    [GeneratedRegex(@"[,.;]\s+|\s[/|+–—-]\s|\s(?:and|und|et|y|en|e)\s")]
    private static partial Regex Parts();

    private static ChargePer Per(HashSet<Meaning> says)
    {
        if (says.Contains(Meaning.PerPermit))
            return ChargePer.Permit;
        if (says.Contains(Meaning.PerBox))
            return ChargePer.Box;
        if (says.Contains(Meaning.PerShipment))
            return ChargePer.Shipment;
        if (says.Contains(Meaning.PerOrder))
            return ChargePer.Order;
        if (says.Contains(Meaning.Carriage))
            return ChargePer.Shipment;
        if (says.Contains(Meaning.Box) || (says.Contains(Meaning.Packing) && !says.Contains(Meaning.Handling)))
            return ChargePer.Box;
        return says.Contains(Meaning.Permit) || says.Contains(Meaning.Document) ? ChargePer.Permit : ChargePer.Order;
    }
}
