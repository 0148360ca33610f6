using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;
using UUIDNext;

namespace Lepidary.App.HangingPlaces;

/// <summary>A lot with the place that it got.</summary>
/// <param name="Lot">Code or key.</param>
/// <param name="Cage">Name of the cage.</param>
/// <param name="Row">Its rows, as <see cref="HangingRows"/> reads them.</param>
internal sealed record HungThere(string Lot, string Cage, string Row);

/// <summary>Writes a plan down as done: a move for each lot, from its first place in the row on. All are looked at before any is written.</summary>
internal sealed class HangAsPlanned(BookContext book, HouseDay day, FactInbox inbox, FindLot finder, Places places)
{
    /// <param name="key">Key of the form: sent twice, each lot is moved once.</param>
    /// <param name="hung">The lots.</param>
    /// <param name="madeAt">When the form was made.</param>
    /// <param name="who">Who hung them.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    /// <returns>How many lots were hung.</returns>
    public async Task<Checked<int>> Do(Guid key, IReadOnlyList<HungThere> hung, DateTimeOffset madeAt, string who, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var moves = new List<Move>();
        var house = await places.House(cancellation);
        foreach (var one in hung)
        {
            var lot = await finder.Find(one.Lot, cancellation);
            problems.AddRange(lot.Problems);
            var cage = house.Cages.Find(cage => cage.Name == one.Cage);
            if (cage is null)
            {
                problems.Add(new($"{one.Lot}, cage", one.Cage, $"one of {string.Join(", ", house.Cages.Select(other => other.Name))}"));
            }

            if (HangingRows.Read(one.Row).Count == 0)
            {
                problems.Add(new($"{one.Lot}, row", one.Row.Length == 0 ? "nothing" : one.Row, "a row as 3, 3-5 or 3-5,8"));
            }

            if (lot.IsGood && cage is not null)
            {
                moves.Add(new()
                {
                    Id = Uuid.NewNameBased(key, lot.Value.Id.ToString()),
                    HouseId = day.HouseId,
                    OnDay = day.Today,
                    DeviceTime = madeAt,
                    Who = who,
                    LotId = lot.Value.Id,
                    CageId = cage.Id,
                    Row = one.Row,
                    Position = 1,
                });
            }
        }

        if (hung.Count == 0)
        {
            problems.Add(new("plan", "no lot", "at least one lot with its place"));
        }

        problems.AddRange(await TwiceInARow(moves, cancellation));
        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var taken = await inbox.Take(cancellation, [.. moves]);
        return taken.IsGood ? moves.Count : taken.Problems.ToArray();
    }

    /// <summary>A row that two lots of the plan would share.</summary>
    private async Task<IEnumerable<Problem>> TwiceInARow(List<Move> moves, CancellationToken cancellation)
    {
        var house = await places.House(cancellation);
        var taxa = await book.Lots.AsNoTracking().Where(lot => moves.Select(move => move.LotId).Contains(lot.Id)).ToDictionaryAsync(lot => lot.Id, lot => lot.Taxon, cancellation);
        return moves.SelectMany(move => HangingRows.Read(move.Row).Select(row => (move.CageId, row, move.LotId))).GroupBy(item => (item.CageId, item.row)).Where(group => group.Count() > 1)
            .Select(group => new Problem($"{house.Cages.Find(cage => cage.Id == group.Key.CageId)?.Name}, row {group.Key.row}", string.Join(" and ", group.Select(item => taxa.GetValueOrDefault(item.LotId))), "one lot a row"));
    }
}
