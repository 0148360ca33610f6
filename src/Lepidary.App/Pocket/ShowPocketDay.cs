using Lepidary.App.Deaths;
using Lepidary.App.Deliveries;
using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Pocket;

/// <summary>A lot as the phone carries it.</summary>
internal sealed record PocketLot
{
    public required Guid Id { get; init; }

    public required string Code { get; init; }

    public required string Taxon { get; init; }

    public string? Form { get; init; }

    public string? Cage { get; init; }

    public string? Row { get; init; }

    /// <summary>Pupae there at the end of yesterday.</summary>
    public int Yesterday { get; init; }

    /// <summary>Pupae there now.</summary>
    public int Now { get; init; }

    public int ToRelease { get; init; }

    public bool Overdue { get; init; }

    /// <summary>True where some had coloured up in the box and are not accounted for yet, or the last count, of today or the two days before, noted it.</summary>
    public bool ColouredUp { get; init; }

    public string? Mark { get; init; }

    /// <summary>What was counted today by anybody, in words; null where nobody has.</summary>
    public string? CountedToday { get; init; }

    /// <summary>What is expected today and on the days after, as seen from today.</summary>
    public required IReadOnlyList<PocketExpected> Ahead { get; init; }

    /// <summary>Hours that wings dry before an adult may be let go.</summary>
    public required int DryingHours { get; init; }
}

/// <summary>What a lot should do on a day.</summary>
internal sealed record PocketExpected(int Likely, string Words);

/// <summary>Into how many sections a path was divided when it was last walked.</summary>
internal sealed record PocketPath(string Path, int Sections);

/// <summary>A box that is on its way, as the phone carries it.</summary>
internal sealed record PocketBox(Guid OrderId, Guid SupplierId, string Supplier, DateOnly? ArrivesOn, IReadOnlyList<PocketBoxLine> Lines);

/// <summary>A line of its order.</summary>
internal sealed record PocketBoxLine(Guid Id, string? Taxon, string? Form, string Text, int Pupae, decimal? UnitLanded);

/// <summary>Who may send a box that nobody ordered.</summary>
internal sealed record PocketSupplier(Guid Id, string Name);

/// <summary>All that a phone needs for a week without a signal.</summary>
internal sealed record PocketDay
{
    public required Guid HouseId { get; init; }

    public required string House { get; init; }

    /// <summary>The house's clock.</summary>
    public required DateTimeOffset Now { get; init; }

    public required DateOnly Today { get; init; }

    /// <summary>IANA zone of the house.</summary>
    public required string Zone { get; init; }

    public required string Who { get; init; }

    /// <summary>Lots in the order in which they hang.</summary>
    public required IReadOnlyList<PocketLot> Lots { get; init; }

    /// <summary>Where adults can be let go, the usual place first.</summary>
    public required IReadOnlyList<Place> Release { get; init; }

    /// <summary>Where a reading can be taken.</summary>
    public required IReadOnlyList<Place> Climate { get; init; }

    /// <summary>What flies, the commonest first.</summary>
    public required IReadOnlyList<Flyer> Flying { get; init; }

    /// <summary>Every species of the table, for what nobody expected.</summary>
    public required IReadOnlyList<string> Taxa { get; init; }

    public required IReadOnlyList<string> Paths { get; init; }

    /// <summary>The paths that have sections.</summary>
    public required IReadOnlyList<PocketPath> Sections { get; init; }

    public required IReadOnlyList<string> Hygiene { get; init; }

    /// <summary>Cages in which pupae hang.</summary>
    public required IReadOnlyList<Place> Cages { get; init; }

    /// <summary>Boxes that are on their way, the next first.</summary>
    public required IReadOnlyList<PocketBox> Boxes { get; init; }

    public required IReadOnlyList<PocketSupplier> Suppliers { get; init; }

    /// <summary>What to mind when a box is opened.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>What does not add up and is not settled.</summary>
    public required int Discrepancies { get; init; }
}

/// <summary>Lays out what a phone carries along.</summary>
internal sealed class ShowPocketDay(BookContext book, HouseDay day, ShowRound round, FlyingNow flying, Places places, StockReader stock)
{
    /// <summary>Today and a week and a day more.</summary>
    private const int Days = 9;

    /// <summary>What a count's note begins with where some have coloured up: those come out within days.</summary>
    private const string ColouredUpNote = "coloured up";

    /// <summary>Days for which a lot that has coloured up is one to look at first.</summary>
    private const int ColouredUpDays = 2;

    /// <param name="who">Who is at this browser, as far as is known.</param>
    /// <param name="cancellation">Stops reading.</param>
    /// <returns>Null where the book has no house yet.</returns>
    public async Task<PocketDay?> Show(string who, CancellationToken cancellation)
    {
        if (day.HouseName is null)
        {
            return null;
        }

        var view = await round.Show(Days, cancellation);
        var colouredUp = await ColouredUp(cancellation);
        var walks = await book.Standing<Walk>(day.HouseId).OrderBy(walk => walk.Path).ThenByDescending(walk => walk.OnDay).ThenByDescending(walk => walk.Start)
            .Select(walk => new { walk.Path, walk.Sections }).ToListAsync(cancellation);
        return new()
        {
            HouseId = day.HouseId,
            House = day.HouseName,
            Now = day.Now,
            Today = day.Today,
            Zone = day.Zone.Id,
            Who = who,
            Lots = [.. view.Lots.Select(lot => new PocketLot
            {
                Id = lot.Id,
                Code = lot.Code,
                Taxon = lot.Taxon,
                Form = lot.Form,
                Cage = lot.Cage,
                Row = lot.Row,
                Yesterday = lot.HungYesterday,
                Now = lot.HangingNow,
                ToRelease = lot.ToRelease,
                Overdue = lot.Overdue,
                ColouredUp = lot.ColouredUp > 0 || colouredUp.Contains(lot.Id),
                Mark = lot.Mark,
                CountedToday = lot.CountedToday,
                Ahead = [.. lot.Ahead.Select(expected => new PocketExpected(expected.Likely, expected.Words))],
                DryingHours = Drying.Hours(lot.Taxon),
            })],
            Release = await places.ForAdults(cancellation),
            Climate = await places.All(cancellation),
            Flying = await flying.Read(cancellation),
            Taxa = [.. TaxonTable.Shipped.All.Select(taxon => taxon.Name).Order(StringComparer.Ordinal)],
            Paths = [.. walks.Select(walk => walk.Path).Distinct()],
            Sections = [.. walks.DistinctBy(walk => walk.Path).Where(walk => walk.Sections > 1).Select(walk => new PocketPath(walk.Path, walk.Sections!.Value))],
            Hygiene = Hygiene.Steps,
            Cages = [.. (await places.House(cancellation)).Cages.Where(cage => cage.Use == CageUse.Emergence).Select(cage => new Place(cage.Id, cage.Name, true))],
            Boxes = [.. (await stock.ReadAsync(day.HouseId, day.Today, cancellation)).Coming.Select(coming => coming.Order).OrderBy(order => order.ArrivesOn ?? DateOnly.MaxValue).Select(order =>
                new PocketBox(order.Id, order.SupplierId, order.Supplier?.Name ?? "", order.ArrivesOn, [.. order.Lines.OrderBy(line => line.Number).Select(line => new PocketBoxLine(line.Id, line.Taxon, line.Form, line.Text, line.Pupae, line.UnitLanded))]))],
            Suppliers = await book.Suppliers.OrderBy(supplier => supplier.Name).Select(supplier => new PocketSupplier(supplier.Id, supplier.Name)).ToListAsync(cancellation),
            Cautions = Cautions.OnOpening,
            Discrepancies = view.Discrepancies,
        };
    }

    private async Task<HashSet<Guid>> ColouredUp(CancellationToken cancellation)
    {
        var since = day.Today.AddDays(-ColouredUpDays);
        var entries = await book.Standing<Entry>(day.HouseId).Where(entry => entry.OnDay >= since && entry.OnDay <= day.Today)
            .OrderByDescending(entry => entry.OnDay).ThenByDescending(entry => entry.Arrival).Select(entry => new { entry.LotId, entry.Note }).ToListAsync(cancellation);
        return [.. entries.DistinctBy(entry => entry.LotId).Where(entry => entry.Note?.StartsWith(ColouredUpNote, StringComparison.Ordinal) == true).Select(entry => entry.LotId)];
    }
}
