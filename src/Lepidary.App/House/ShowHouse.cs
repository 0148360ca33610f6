using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;

namespace Lepidary.App.House;

internal sealed record AimLine(Guid Id, string Words, bool IsSpecies, string Taxon, string Sure, int Importance, string Days);

internal sealed record HouseView(
    string Name, string Lead, IReadOnlyList<(string Name, string Words)> Places, string Open, IReadOnlyList<string> Closed, string Budget, string Tax,
    IReadOnlyList<AimLine> Aims, IReadOnlyList<string> KeepNot, string? Season, IReadOnlyList<string> NoBoxes, IReadOnlyList<(Guid Id, string Name, string Words)> Suppliers, string File);

/// <summary>What is this house, and what does it want?</summary>
internal sealed class ShowHouse(HouseDay day)
{
    /// <summary>The house, or null where the book has none.</summary>
    public async Task<HouseView?> Show(CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return null;
        }

        var house = await day.House(cancellation);
        return new HouseView(
            house.Name,
            $"{house.Cages.Sum(cage => cage.Places)} hanging places, {house.Aims.Count} wishes, {house.Terms.Count} suppliers.",
            [
                .. house.Areas.OrderBy(area => area.Name, StringComparer.Ordinal).Select(area => (area.Name, $"{area.FloorM2:0} m² to fly in{(area.Ceiling is { } ceiling ? $", at most {ceiling}" : "")}")),
                .. house.Cages.OrderBy(cage => cage.Name, StringComparer.Ordinal).Select(cage => (cage.Name, $"{cage.Places} places{(cage.Use == CageUse.Pairing ? ", for pairs" : "")}{(cage is { ShutFrom: { } from, ShutTo: { } to } ? $", shut from {DayWords.Short(from)} to {DayWords.Short(to)}" : "")}")),
            ],
            house.OpenOn == Weekdays.All ? "every day" : string.Join(", ", house.OpenOn.Days().Select(open => open.ToString())),
            [.. house.ClosedDays.Order().Select(DayWords.Short)],
            house.Budget is { } budget ? $"{MoneyWords.Sum(budget, house.Currency)} landed for one order week" : "none",
            $"{house.TaxRate * 100:0.#} %{(house.TaxReclaimed ? ", reclaimed" : "")}",
            [.. house.Aims.OrderByDescending(aim => aim.Importance).ThenBy(aim => aim.Kind).ThenBy(aim => aim.Selector, StringComparer.Ordinal).Select(Line)],
            [.. house.KeepNots.OrderBy(keepNot => keepNot.AtMost).ThenBy(keepNot => keepNot.Selector, StringComparer.Ordinal).Select(KeepNotWords)],
            house is { SeasonBudget: { } season, SeasonFrom: { } first, SeasonTo: { } last } ? $"{MoneyWords.Sum(season, house.Currency)} landed from {DayWords.Short(first)} to {DayWords.Short(last)}" : null,
            [.. (house.NoBoxesOn ?? []).Order().Select(DayWords.Short)],
            [.. house.Terms.OrderBy(terms => terms.Supplier!.Name, StringComparer.Ordinal).Select(terms => (terms.SupplierId, terms.Supplier!.Name, TermWords(terms)))],
            HouseFileText.Write(house));
    }

    private static string KeepNotWords(KeepNot keepNot)
    {
        var of = keepNot.Selector.StartsWith("tag:", StringComparison.Ordinal) ? $"all that is {keepNot.Selector[4..]}" : keepNot.Selector;
        return keepNot.AtMost is { } most ? $"{of}: at most {most} of each species" : of;
    }

    private static string TermWords(SupplierTerms terms) => string.Join(", ", new[]
    {
        terms.Currency,
        $"box on {terms.ArrivesOn ?? DayOfWeek.Tuesday}{(terms.AlsoArrivesOn is { } also ? $" and {also}" : "")}",
        terms.OrderAheadDays is { } ahead ? $"last order {ahead} days before" : null,
        terms.ClosedDays is { Count: > 0 } closed ? $"none on {string.Join(", ", closed.Order().Select(DayWords.Short))}" : null,
        terms.Avoided ? "avoided" : terms.FavouredBy > 0 ? $"favoured by {terms.FavouredBy * 100:0.#} %" : terms.FavouredBy < 0 ? $"only where {-terms.FavouredBy * 100:0.#} % cheaper" : null,
    }.OfType<string>());

    private static AimLine Line(Aim aim)
    {
        var isSpecies = aim.Selector.Contains(' ', StringComparison.Ordinal);
        var of = aim.Selector == "all" ? "butterflies" : aim.Selector.StartsWith("tag:", StringComparison.Ordinal) ? aim.Selector[4..] : aim.Selector;
        return new AimLine(
            aim.Id,
            aim.Kind switch
            {
                AimKind.Display => $"at least {aim.AtLeast} {(isSpecies ? "" : of + " ")}flying",
                AimKind.Variety => $"at least {aim.AtLeast} species flying",
                AimKind.Breeding => (aim.AtLeast == 1 ? "a pair that meets" : $"{aim.AtLeast} pairs that meet") + (aim.NewBlood ? ", from outside" : ""),
                _ => throw new InvalidOperationException($"Aim of kind {aim.Kind}."),
            },
            isSpecies,
            of,
            ShowWish.Words(aim.Sure),
            aim.Importance,
            (aim.From, aim.To, aim.Days) switch
            {
                (null, null, null) => "where the order can help",
                var (from, to, days) => string.Join(", ", new[]
                {
                    from is { } first ? "from " + DayWords.Short(first) : null,
                    to is { } last ? "to " + DayWords.Short(last) : null,
                    days is { } on ? string.Join(" and ", on.Days().Select(one => one.ToString())) : null,
                }.OfType<string>()),
            });
    }
}
