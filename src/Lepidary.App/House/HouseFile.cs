using Lepidary.App.Visitors;
using Lepidary.Book;

namespace Lepidary.App.House;

/// <summary>Where own stock is.</summary>
internal enum StockPlace
{
    Hanging,
    Coming,
    Flying,
}

/// <summary>Own stock of one taxon, as planning needs it.</summary>
/// <param name="Place">Where it is.</param>
/// <param name="Taxon">As written; an accepted binomial once the names are settled.</param>
/// <param name="Count">Pupae hanging or coming, or adults flying.</param>
/// <param name="Since">Hung on, released on, or arriving on.</param>
/// <param name="Supplier">Who posted it, or null.</param>
/// <param name="Rate">Share of the pupae that is expected to emerge, 0…1, or null for the table's.</param>
/// <param name="Emerged">Emerged of the same lot already.</param>
/// <param name="Lost">Failed of the same lot already.</param>
/// <param name="Released">For adults let go and not counted since: how many were let go. Null: the count is of today.</param>
/// <param name="Cage">Cage in which pupae hang, or null.</param>
internal sealed record StockItem(StockPlace Place, string Taxon, int Count, DateOnly Since, string? Supplier = null, double? Rate = null, int Emerged = 0, int Lost = 0, int? Released = null, Guid? Cage = null);

/// <summary>What a house file holds.</summary>
/// <param name="House">The house with its areas, cages, aims, suppliers' terms; not tied to any book.</param>
/// <param name="Stock">What hangs, comes and flies.</param>
internal sealed record HouseSheet(Book.House House, IReadOnlyList<StockItem> Stock);

/// <summary>Reads a house file (YAML; docs/house-file.md). All problems at once, each with its line.</summary>
internal static class HouseFile
{
    /// <summary>Tax on goods where a file does not say (common practice, no source).</summary>
    private const double UsualTax = 0.20;

    public static Checked<HouseSheet> Read(string path)
    {
        try
        {
            return Parse(Path.GetFileName(path), File.ReadAllText(path));
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            return new Problem(path, wrong.Message, "a house file that can be read");
        }
    }

    public static Checked<HouseSheet> Parse(string file, string text)
    {
        var problems = new List<Problem>();
        var root = YamlSheet.Parse(file, text, problems);
        if (root is null)
        {
            return problems.ToArray();
        }

        var tax = root.Sheet("tax");
        var season = root.Sheet("season");
        var house = new Book.House
        {
            Name = root.NeededText("house", "the name of the house"),
            Currency = Currency(root, "currency") ?? Wrong(root, "currency", "the house's currency as an ISO 4217 code: GBP, EUR, USD …"),
            TimeZone = Zone(root),
            TaxRate = (decimal)(tax?.Share("rate") ?? UsualTax),
            TaxReclaimed = tax?.YesNo("reclaimed") ?? false,
            OpenOn = root.Has("open") ? WeekdaySets.Of(root.WeekdayList("open")) : Weekdays.All,
            ClosedDays = [.. root.DayList("closed")],
            Languages = root.Has("languages") ? Languages(root) : null,
            NoBoxesOn = Days(root, "no-boxes"),
            Budget = root.Number("budget"),
            SeasonBudget = season is null ? null : season.Number("budget") ?? Needed(season, "budget", "the money of the season, landed"),
            SeasonFrom = season is null ? null : season.Day("from") ?? NeededDay(season, "from"),
            SeasonTo = season is null ? null : season.Day("to") ?? NeededDay(season, "to"),
        };
        tax?.Close();
        if (house.SeasonFrom > house.SeasonTo)
        {
            season!.Wrong("to", $"a day not before {house.SeasonFrom:yyyy-MM-dd}");
        }

        season?.Close();
        house.Areas.AddRange(root.Sheets("areas").Select(Area));
        house.Cages.AddRange(root.Sheets("cages").Select(Cage));
        house.KeepNots.AddRange(root.TextList("keep-not").Select(selector => new KeepNot { Selector = selector }));
        house.KeepNots.AddRange(root.Sheets("keep-at-most").Select(KeepAtMost));
        house.Aims.AddRange(root.Sheets("aims").Select(Aim).OfType<Aim>());
        house.Terms.AddRange(root.Sheets("suppliers").Select(sheet => Terms(sheet, house)));
        var stock = Stock(root.Sheet("stock"));
        root.Close();

        foreach (var twice in house.KeepNots.GroupBy(keepNot => keepNot.Selector, StringComparer.OrdinalIgnoreCase).Where(group => group.Count() > 1))
        {
            problems.Add(new(file, $"{twice.Key} twice under `keep-not` and `keep-at-most`", "each once"));
        }

        foreach (var twice in house.Terms.GroupBy(terms => terms.Supplier!.Name, StringComparer.OrdinalIgnoreCase).Where(group => group.Count() > 1))
        {
            problems.Add(new(file, $"two suppliers named {twice.Key}", "each supplier once"));
        }

        return problems.Count > 0 ? problems.ToArray() : new HouseSheet(house, stock);
    }

    private static FlightArea Area(YamlSheet sheet)
    {
        var area = new FlightArea
        {
            Name = sheet.NeededText("name", "the name of the area"),
            FloorM2 = (double)(sheet.Number("floor") ?? 0),
            HeightM = (double)(sheet.Number("height") ?? 0),
            Ceiling = sheet.Whole("ceiling"),
        };
        sheet.Close();
        return area;
    }

    private static Cage Cage(YamlSheet sheet)
    {
        var use = sheet.Text("use");
        if (use is not (null or "emergence" or "pairing"))
        {
            sheet.Wrong("use", "emergence or pairing");
        }

        var cage = new Cage
        {
            Name = sheet.NeededText("name", "the name of the cage"),
            Places = sheet.Whole("places", 1) ?? Needed(sheet, "places", "how many pupae hang in it"),
            Use = use == "pairing" ? CageUse.Pairing : CageUse.Emergence,
            Rows = sheet.Whole("rows", 1, 1000),
            RowCm = sheet.Whole("row-cm", 10, 2000),
            ReachRows = sheet.Whole("reach", 1, 1000),
        };
        if (cage.Rows is null != cage.RowCm is null)
        {
            sheet.Wrong(cage.Rows is null ? "rows" : "row-cm", "`rows:` (how many) and `row-cm:` (how long one is) together");
        }

        if (cage.ReachRows > cage.Rows)
        {
            sheet.Wrong("reach", $"at most the cage's {cage.Rows} rows");
        }

        if (sheet.Sheet("shut") is { } shut)
        {
            (cage.ShutFrom, cage.ShutTo) = (shut.Day("from") ?? NeededDay(shut, "from"), shut.Day("to") ?? NeededDay(shut, "to"));
            if (cage.ShutFrom > cage.ShutTo)
            {
                shut.Wrong("to", $"a day not before {cage.ShutFrom:yyyy-MM-dd}");
            }

            shut.Close();
        }

        sheet.Close();
        return cage;
    }

    private static KeepNot KeepAtMost(YamlSheet sheet)
    {
        var (taxon, tag) = (sheet.Text("taxon"), sheet.Text("tag"));
        var keepNot = new KeepNot
        {
            Selector = taxon is null != tag is null ? taxon ?? "tag:" + tag!.ToLowerInvariant() : Wrong(sheet, "taxon", "exactly one of `taxon:` and `tag:`"),
            AtMost = sheet.Whole("at-most", 0, 100_000) ?? Needed(sheet, "at-most", "how many of each such taxon"),
        };
        sheet.Close();
        return keepNot;
    }

    private static Aim? Aim(YamlSheet sheet)
    {
        var (kind, name) = sheet.Has("display") ? (AimKind.Display, "display") : sheet.Has("variety") ? (AimKind.Variety, "variety") : (AimKind.Breeding, "breeding");
        if (!sheet.Has(name))
        {
            sheet.Wrong("display", "an aim: `display:`, `variety:` or `breeding:`");
            return null;
        }

        var fields = sheet.Sheet(name)!;
        sheet.Close();
        var number = kind == AimKind.Breeding ? "pairs" : "at-least";
        var aim = new Aim
        {
            Kind = kind,
            Selector = Selector(fields, kind),
            AtLeast = fields.Whole(number, 1, HouseRules.MostWished) ?? (kind == AimKind.Breeding ? 1 : Needed(fields, number, "how many")),
            Sure = fields.Share("sure") ?? (kind == AimKind.Breeding ? 0.95 : 0.8),
            Importance = fields.Whole("importance", 1, HouseRules.MostImportant) ?? 1,
            From = fields.Day("from"),
            To = fields.Day("to"),
            NewBlood = kind == AimKind.Breeding && (fields.YesNo("new-blood") ?? false),
            Days = fields.Has("days") ? WeekdaySets.Of(fields.WeekdayList("days")) : null,
        };
        if (!HouseRules.IsSure(aim.Sure))
        {
            fields.Wrong("sure", HouseRules.SureWanted);
        }

        if (aim.From > aim.To)
        {
            fields.Wrong("to", $"a day not before {aim.From:yyyy-MM-dd}");
        }

        fields.Close();
        return aim;
    }

    private static string Selector(YamlSheet fields, AimKind kind)
    {
        if (kind == AimKind.Variety)
        {
            return "all";
        }

        var taxon = fields.Text("taxon");
        if (kind == AimKind.Breeding)
        {
            return taxon ?? Wrong(fields, "taxon", "the taxon to breed");
        }

        var tag = fields.Text("tag");
        var all = fields.YesNo("all") ?? false;
        return new[] { taxon is not null, tag is not null, all }.Count(said => said) == 1
            ? taxon ?? (tag is null ? "all" : "tag:" + tag.ToLowerInvariant())
            : Wrong(fields, "taxon", "exactly one of `taxon:`, `tag:` and `all: yes`");
    }

    private static SupplierTerms Terms(YamlSheet sheet, Book.House house)
    {
        var currency = Currency(sheet, "currency") ?? house.Currency;
        var rate = sheet.Number("rate", 0.000001m);
        if (rate is null && currency != house.Currency)
        {
            sheet.Wrong("rate", $"how much {house.Currency} one {currency} costs");
        }

        var minimum = sheet.Sheet("minimum-order");
        var box = sheet.Sheet("box");
        var arrives = sheet.WeekdayList("arrives");
        if (arrives.Count > 2 || arrives.Distinct().Count() < arrives.Count)
        {
            sheet.Wrong("arrives", "one weekday, or two different ones: [tue, fri]");
        }

        var terms = new SupplierTerms
        {
            Supplier = new Supplier { Name = sheet.NeededText("name", "the supplier's name"), Email = sheet.Text("email") },
            Currency = currency,
            Rate = rate ?? 1,
            PricesExcludeTax = sheet.YesNo("prices-exclude-tax") ?? true,
            TaxRate = (decimal?)sheet.Share("tax"),
            CarriageTaxed = sheet.YesNo("carriage-taxed") ?? true,
            Carriage = [.. sheet.Sheets("carriage").Select(Tier).OrderBy(tier => tier.From)],
            CarriageBy = Said(sheet, "carriage-by", CarriageCount.Pupae, ("pupae", CarriageCount.Pupae), ("goods", CarriageCount.Goods), ("grams", CarriageCount.Grams)),
            PupaGrams = sheet.Number("pupa-grams", 0.01m, 1000),
            Charges = [.. sheet.Sheets("charges").Select(Charge)],
            BreaksFromThere = Said(sheet, "price-breaks", false, ("for-all", false), ("from-there", true)),
            BoxPupae = box?.Whole("pupae", 1),
            MinimumPupae = minimum?.Whole("pupae", 1),
            MinimumGoods = minimum?.Number("goods"),
            ArrivesOn = arrives.Count > 0 ? arrives[0] : null,
            AlsoArrivesOn = arrives.Count > 1 ? arrives[1] : null,
            OrderAheadDays = sheet.Whole("order-ahead", 0, 60),
            ClosedDays = Days(sheet, "closed"),
            Avoided = sheet.YesNo("avoid") ?? false,
            FavouredBy = (decimal)(sheet.Share("favour", -0.9, 9) ?? 0),
            ClaimWindowHours = sheet.Whole("claim-within-hours", 1),
        };
        if (terms.Charges.Any(charge => charge.Per == CountedBy.Box) && terms.BoxPupae is null)
        {
            sheet.Wrong("box", "`box: { pupae: … }`, since a charge counts by the box");
        }

        minimum?.Close();
        box?.Close();
        sheet.Close();
        return terms;
    }

    private static CarriageTier Tier(YamlSheet sheet)
    {
        var tier = new CarriageTier { From = sheet.Whole("from", 1) ?? 1, Cost = sheet.Number("cost") ?? Needed(sheet, "cost", "the carriage in the supplier's currency") };
        sheet.Close();
        return tier;
    }

    private static SupplierCharge Charge(YamlSheet sheet)
    {
        var per = sheet.Text("per") ?? "order";
        if (per is not ("order" or "box"))
        {
            sheet.Wrong("per", "order or box");
        }

        var charge = new SupplierCharge
        {
            Name = sheet.NeededText("name", "what the charge is for"),
            Amount = sheet.Number("amount") ?? Needed(sheet, "amount", "the charge in the supplier's currency"),
            Per = per == "box" ? CountedBy.Box : CountedBy.Order,
        };
        sheet.Close();
        return charge;
    }

    private static IReadOnlyList<StockItem> Stock(YamlSheet? sheet)
    {
        if (sheet is null)
        {
            return [];
        }

        List<StockItem> stock =
        [
            .. sheet.Sheets("hanging").Select(item => Item(item, StockPlace.Hanging, "pupae", "since")),
            .. sheet.Sheets("coming").Select(item => Item(item, StockPlace.Coming, "pupae", "arrives")),
            .. sheet.Sheets("flying").Select(item => Item(item, StockPlace.Flying, "count", "since")),
        ];
        sheet.Close();
        return stock;
    }

    private static StockItem Item(YamlSheet sheet, StockPlace place, string number, string day)
    {
        var posted = place != StockPlace.Flying;
        var item = new StockItem(
            place,
            sheet.NeededText("taxon", "the taxon"),
            sheet.Whole(number, 0, 100_000) ?? Needed(sheet, number, "how many"),
            sheet.Day(day) ?? NeededDay(sheet, day),
            posted ? sheet.Text("supplier") : null,
            posted ? sheet.Share("rate") : null);
        sheet.Close();
        return item;
    }

    private static string Zone(YamlSheet root)
    {
        var zone = root.Text("zone") ?? "UTC";
        return HouseRules.IsZone(zone) ? zone : Wrong(root, "zone", HouseRules.ZoneWanted);
    }

    private static List<string> Languages(YamlSheet root)
    {
        var languages = root.TextList("languages").Select(language => language.ToLowerInvariant()).ToList();
        if (languages.Count == 0 || languages.Exists(language => !VisitorWords.Languages.Contains(language)) || languages.Distinct().Count() < languages.Count)
        {
            root.Wrong("languages", $"each once, of {string.Join(", ", VisitorWords.Languages)}");
            return [];
        }

        return languages;
    }

    private static string? Currency(YamlSheet sheet, string name)
    {
        var code = sheet.Text(name);
        return code is null || HouseRules.IsCurrency(code) ? code : Wrong(sheet, name, HouseRules.CurrencyWanted);
    }

    /// <summary>Reports and goes on with a blank: the sheet is refused as a whole in the end.</summary>
    private static string Wrong(YamlSheet sheet, string name, string expected)
    {
        sheet.Wrong(name, expected);
        return "";
    }

    private static List<DateOnly>? Days(YamlSheet sheet, string name) => sheet.DayList(name) is { Count: > 0 } days ? [.. days] : null;

    /// <summary>One of some words.</summary>
    private static T Said<T>(YamlSheet sheet, string name, T usual, params ReadOnlySpan<(string Word, T Value)> words)
    {
        var text = sheet.Text(name);
        if (text is null)
        {
            return usual;
        }

        foreach (var (word, value) in words)
        {
            if (word == text)
            {
                return value;
            }
        }

        var all = new List<string>();
        foreach (var (word, _) in words)
        {
            all.Add(word);
        }

        sheet.Wrong(name, string.Join(" or ", all));
        return usual;
    }

    private static int Needed(YamlSheet sheet, string name, string what)
    {
        // A malformed value has been reported already; only a missing one is reported here.
        if (!sheet.Has(name))
        {
            sheet.Wrong(name, what);
        }

        return 1;
    }

    private static DateOnly NeededDay(YamlSheet sheet, string name)
    {
        if (!sheet.Has(name))
        {
            sheet.Wrong(name, "a date as 2026-11-27");
        }

        return DateOnly.MinValue;
    }
}
