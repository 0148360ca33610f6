using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Rounds;

/// <summary>A lot hung in another place, whole.</summary>
/// <param name="Lot">The lot's code or key.</param>
/// <param name="Cage">Name or key of the cage.</param>
/// <param name="Row">Row in the cage, as labelled; or null.</param>
internal sealed record LotMoved(string Lot, string? Cage, string? Row)
{
    /// <summary>Key, made with the form.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>When the form was made; null for now.</summary>
    public DateTimeOffset? MadeAt { get; init; }

    /// <summary>Place of its first pupa in the row, 1 the first; or null.</summary>
    public int? Position { get; init; }

    /// <summary>The day; null for today.</summary>
    public DateOnly? OnDay { get; init; }

    public string Who { get; init; } = "";
}

/// <summary>Writes down where a lot hangs now.</summary>
internal sealed class MoveLot(BookContext book, HouseDay day, FactInbox inbox, FindLot finder, Places places)
{
    /// <summary>More than any row holds.</summary>
    private const int MostPlaces = 1000;

    /// <summary>What is wrong with the place of a first pupa in a row; null where nothing is.</summary>
    public static Problem? CheckPlace(string where, int? place, string? row) =>
        place is < 1 or > MostPlaces || (place is not null && row is null) ? new(where, $"{place}{(row is null ? " without a row" : "")}", $"a place in a row, 1 to {MostPlaces}") : null;

    public async Task<Checked<Move>> Do(LotMoved moved, CancellationToken cancellation)
    {
        var found = await finder.Find(moved.Lot, cancellation);
        var cage = await places.Named(moved.Cage, "cage", cancellation);
        List<Problem> problems = [.. found.Problems, .. cage.Problems, .. FactDays.Check(moved.OnDay, day.Today)];
        if (cage.IsGood && cage.Value is not { IsCage: true })
        {
            problems.Add(new("cage", cage.Value?.Name ?? "nothing", $"one of {string.Join(", ", (await places.House(cancellation)).Cages.Select(other => other.Name))}"));
        }

        if (CheckPlace("place", moved.Position, moved.Row) is { } misplaced)
        {
            problems.Add(misplaced);
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        // Sent twice, the place is the same; and two forms that say the same are one move.
        var facts = await LotFacts.Of(book, found.Value.Id, cancellation);
        var balance = Ledger.Balance(found.Value, facts);
        var move = new Move
        {
            Id = moved.Id,
            HouseId = day.HouseId,
            OnDay = moved.OnDay ?? day.Today,
            DeviceTime = moved.MadeAt ?? day.Now,
            Who = moved.Who,
            LotId = found.Value.Id,
            CageId = cage.Value!.Id,
            Row = moved.Row,
            Position = moved.Position,
        };
        if (balance.CageId == move.CageId && balance.Row == move.Row && balance.Position == move.Position)
        {
            return move;
        }

        var taken = await inbox.Take(cancellation, move);
        return taken.IsGood ? move : taken.Problems.ToArray();
    }
}
