using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.House;

/// <summary>A wish in the fields of its form.</summary>
/// <param name="Sures">What can be chosen for how sure: percent and words.</param>
/// <param name="Names">What can be wished for by name: species, genera, families, tags.</param>
internal sealed record WishView(
    Guid? Id, AimKind Kind, string Of, string AtLeast, string Sure, string Importance, string From, string To, Weekdays Days, bool NewBlood,
    IReadOnlyList<(string Percent, string Words)> Sures, IReadOnlyList<string> Names);

/// <summary>What does this wish ask for?</summary>
internal sealed class ShowWish(BookContext book, HouseDay day)
{
    private static readonly double[] Usual = [0.6, 0.7, 0.8, 0.9, 0.95];

    /// <param name="wish">A wish that stands; null for a new one.</param>
    /// <param name="cancellation">Stops reading.</param>
    /// <returns>Null where there is no such wish.</returns>
    public async Task<WishView?> Show(Guid? wish, CancellationToken cancellation)
    {
        var aim = wish is null
            ? new Aim { HouseId = day.HouseId, Kind = AimKind.Display, Sure = 0.8 }
            : await book.Aims.AsNoTracking().FirstOrDefaultAsync(aim => aim.Id == wish && aim.HouseId == day.HouseId && aim.EndedOn == null, cancellation);
        if (aim is null)
        {
            return null;
        }

        var table = TaxonTable.Shipped;
        return new WishView(
            wish,
            aim.Kind,
            aim.Selector == "all" ? "" : aim.Selector.StartsWith("tag:", StringComparison.Ordinal) ? aim.Selector[4..] : aim.Selector,
            aim.AtLeast == 0 ? "" : aim.AtLeast.ToString(CultureInfo.InvariantCulture),
            Percent(aim.Sure),
            aim.Importance.ToString(CultureInfo.InvariantCulture),
            $"{aim.From:yyyy-MM-dd}",
            $"{aim.To:yyyy-MM-dd}",
            aim.Days ?? Weekdays.None,
            aim.NewBlood,
            [.. Usual.Append(aim.Sure).Distinct().Order().Select(sure => (Percent(sure), Words(sure)))],
            [.. table.All.Select(taxon => taxon.Name).Concat(table.All.Select(taxon => taxon.Genus)).Concat(table.All.Select(taxon => taxon.Family)).Where(name => name.Length > 0).Distinct().Order(StringComparer.Ordinal), .. table.Tags.Order(StringComparer.Ordinal)]);
    }

    /// <summary>The chance that a wish asks for: <c>8 of 10</c>, <c>19 of 20</c>, <c>85 %</c>.</summary>
    public static string Words(double sure) => sure switch
    {
        0.95 => "19 of 20",
        _ when Math.Abs((sure * 10) - Math.Round(sure * 10)) < 1e-9 => $"{sure * 10:0} of 10",
        _ => ChanceWords.Percent(sure),
    };

    private static string Percent(double sure) => (sure * 100).ToString("0.####", CultureInfo.InvariantCulture);
}
