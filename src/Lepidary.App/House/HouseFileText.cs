using System.Globalization;
using System.Text;
using Lepidary.Book;

namespace Lepidary.App.House;

/// <summary>Writes a house as a house file; reading it back gives the same house.</summary>
internal static class HouseFileText
{
    public static string Write(Book.House house)
    {
        var text = new StringBuilder();
        Line($"house: {Quoted(house.Name)}");
        Line($"currency: {house.Currency}");
        Line($"zone: {house.TimeZone}");
        Line($"tax: {{ rate: {Percent((double)house.TaxRate)}, reclaimed: {YesNo(house.TaxReclaimed)} }}");
        List("areas", house.Areas.OrderBy(area => area.Name, StringComparer.Ordinal).Select(area =>
            $"{{ name: {Quoted(area.Name)}, floor: {N(area.FloorM2)}, height: {N(area.HeightM)}{(area.Ceiling is { } ceiling ? $", ceiling: {ceiling}" : "")} }}"));
        List("cages", house.Cages.OrderBy(cage => cage.Name, StringComparer.Ordinal).Select(cage =>
            $"{{ name: {Quoted(cage.Name)}, places: {cage.Places}{(cage.Use == CageUse.Pairing ? ", use: pairing" : "")}{(cage.Rows is { } rows ? $", rows: {rows}, row-cm: {cage.RowCm}" : "")}{(cage.ReachRows is { } reach ? $", reach: {reach}" : "")}{(cage is { ShutFrom: { } from, ShutTo: { } to } ? $", shut: {{ from: {Day(from)}, to: {Day(to)} }}" : "")} }}"));
        Line($"open: [{Days(house.OpenOn)}]");
        if (house.ClosedDays.Count > 0)
        {
            Line($"closed: [{string.Join(", ", house.ClosedDays.Order().Select(Day))}]");
        }

        if (house.NoBoxesOn is { Count: > 0 } noBoxes)
        {
            Line($"no-boxes: [{string.Join(", ", noBoxes.Order().Select(Day))}]");
        }

        if (house.Languages is { Count: > 0 } languages)
        {
            Line($"languages: [{string.Join(", ", languages)}]");
        }

        if (house.Budget is { } budget)
        {
            Line($"budget: {N(budget)}");
        }

        if (house is { SeasonBudget: { } season, SeasonFrom: { } from, SeasonTo: { } to })
        {
            Line($"season: {{ budget: {N(season)}, from: {Day(from)}, to: {Day(to)} }}");
        }

        var keepNots = house.KeepNots.OrderBy(keepNot => keepNot.Selector, StringComparer.Ordinal).ToList();
        List("keep-not", keepNots.Where(keepNot => keepNot.AtMost is null).Select(keepNot => Quoted(keepNot.Selector)));
        List("keep-at-most", keepNots.Where(keepNot => keepNot.AtMost is not null).Select(keepNot =>
            $"{{ {(IsTag(keepNot.Selector) ? $"tag: {Quoted(keepNot.Selector["tag:".Length..])}" : $"taxon: {Quoted(keepNot.Selector)}")}, at-most: {keepNot.AtMost} }}"));
        List("aims", house.Aims.Where(aim => aim.EndedOn is null).OrderByDescending(aim => aim.Importance).ThenBy(aim => aim.Kind).ThenBy(aim => aim.Selector, StringComparer.Ordinal).ThenBy(aim => aim.AtLeast).Select(Aim));
        List("suppliers", house.Terms.OrderBy(terms => terms.Supplier!.Name, StringComparer.Ordinal).Select(terms => Terms(terms, house)));
        return text.ToString();

        void Line(FormattableString line) => text.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');

        void List(string name, IEnumerable<string> items)
        {
            var all = items.ToList();
            if (all.Count > 0)
            {
                text.Append(name).Append(":\n");
                all.ForEach(item => text.Append("  - ").Append(item).Append('\n'));
            }
        }
    }

    private static string Aim(Aim aim)
    {
        var fields = new List<string>();
        if (aim.Kind == AimKind.Display)
        {
            fields.Add(aim.Selector == "all" ? "all: yes" : IsTag(aim.Selector) ? $"tag: {Quoted(aim.Selector["tag:".Length..])}" : $"taxon: {Quoted(aim.Selector)}");
        }
        else if (aim.Kind == AimKind.Breeding)
        {
            fields.Add($"taxon: {Quoted(aim.Selector)}");
        }

        fields.Add($"{(aim.Kind == AimKind.Breeding ? "pairs" : "at-least")}: {aim.AtLeast}");
        fields.Add($"sure: {Percent(aim.Sure)}");
        fields.Add($"importance: {aim.Importance}");
        if (aim.From is { } from)
        {
            fields.Add($"from: {Day(from)}");
        }

        if (aim.To is { } to)
        {
            fields.Add($"to: {Day(to)}");
        }

        if (aim.Days is { } days)
        {
            fields.Add($"days: [{Days(days)}]");
        }

        if (aim.NewBlood)
        {
            fields.Add("new-blood: yes");
        }

        return $"{aim.Kind.ToString().ToLowerInvariant()}: {{ {string.Join(", ", fields)} }}";
    }

    private static string Terms(SupplierTerms terms, Book.House house)
    {
        var fields = new List<string> { $"name: {Quoted(terms.Supplier!.Name)}" };
        Add("email", terms.Supplier.Email is { } email ? Quoted(email) : null);
        fields.Add($"currency: {terms.Currency}");
        Add("rate", terms.Currency == house.Currency && terms.Rate == 1 ? null : N(terms.Rate));
        fields.Add($"prices-exclude-tax: {YesNo(terms.PricesExcludeTax)}");
        Add("tax", terms.TaxRate is { } tax ? Percent((double)tax) : null);
        Add("carriage", terms.Carriage.Count > 0 ? $"[{string.Join(", ", terms.Carriage.OrderBy(tier => tier.From).Select(tier => $"{{ from: {tier.From}, cost: {N(tier.Cost)} }}"))}]" : null);
        Add("carriage-by", terms.CarriageBy == CarriageCount.Pupae ? null : terms.CarriageBy.ToString().ToLowerInvariant());
        Add("pupa-grams", terms.PupaGrams is { } grams ? N(grams) : null);
        fields.Add($"carriage-taxed: {YesNo(terms.CarriageTaxed)}");
        var minimum = new[] { terms.MinimumPupae is { } pupae ? $"pupae: {pupae}" : null, terms.MinimumGoods is { } goods ? $"goods: {N(goods)}" : null }.OfType<string>().ToList();
        Add("minimum-order", minimum.Count > 0 ? $"{{ {string.Join(", ", minimum)} }}" : null);
        Add("price-breaks", terms.BreaksFromThere ? "from-there" : null);
        Add("arrives", terms.ArrivesOn is { } day ? terms.AlsoArrivesOn is { } also ? $"[{Weekday(day)}, {Weekday(also)}]" : Weekday(day) : null);
        Add("order-ahead", terms.OrderAheadDays?.ToString(CultureInfo.InvariantCulture));
        Add("closed", terms.ClosedDays is { Count: > 0 } closed ? $"[{string.Join(", ", closed.Order().Select(Day))}]" : null);
        Add("avoid", terms.Avoided ? "yes" : null);
        Add("favour", terms.FavouredBy != 0 ? Percent((double)terms.FavouredBy) : null);
        Add("box", terms.BoxPupae is { } box ? $"{{ pupae: {box} }}" : null);
        Add("charges", terms.Charges.Count > 0 ? $"[{string.Join(", ", terms.Charges.Select(charge => $"{{ name: {Quoted(charge.Name)}, amount: {N(charge.Amount)}, per: {(charge.Per == CountedBy.Box ? "box" : "order")} }}"))}]" : null);
        Add("claim-within-hours", terms.ClaimWindowHours?.ToString(CultureInfo.InvariantCulture));
        return string.Join("\n    ", fields);

        void Add(string name, string? value)
        {
            if (value is not null)
            {
                fields.Add($"{name}: {value}");
            }
        }
    }

    private static string Quoted(string text) => $"\"{text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";

    private static string Percent(double share) => (share * 100).ToString("0.####", CultureInfo.InvariantCulture) + "%";

    private static string N(IFormattable number) => number.ToString("0.######", CultureInfo.InvariantCulture);

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Days(Weekdays days) => string.Join(", ", days.Days().Select(Weekday));

    private static string Weekday(DayOfWeek day) => day.ToString()[..3].ToLowerInvariant();

    private static bool IsTag(string selector) => selector.StartsWith("tag:", StringComparison.Ordinal);

    private static string YesNo(bool yes) => yes ? "yes" : "no";
}
