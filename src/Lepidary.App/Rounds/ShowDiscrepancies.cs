using System.Text.Json;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>Something to settle, with the rows behind it.</summary>
/// <param name="SubjectId">What it is about.</param>
/// <param name="Kind">In what way.</param>
/// <param name="Sentence">What does not add up, and what to do.</param>
/// <param name="Taxon">The lot's taxon, or null.</param>
/// <param name="LotCode">The lot, or null.</param>
/// <param name="Excess">Animals by which it does not balance.</param>
/// <param name="CanRecount">True where saying that more were received would settle it.</param>
/// <param name="Rows">Rows to look at; each can be taken back.</param>
/// <param name="Second">What the row says that came second under the same key, or null.</param>
/// <param name="Picture">Key of the picture that came second, or null.</param>
internal sealed record ToSettle(
    Guid SubjectId, DiscrepancyKind Kind, string Sentence, string? Taxon, string? LotCode, int Excess, bool CanRecount, IReadOnlyList<LotRow> Rows, string? Second, Guid? Picture);

/// <summary>All that does not add up and is not settled.</summary>
internal sealed record DiscrepanciesView(string Headline, IReadOnlyList<ToSettle> Open);

/// <summary>Lays out what is to be settled.</summary>
internal sealed class ShowDiscrepancies(BookContext book, HouseDay day, DiscrepancyReader reader, Places places)
{
    public async Task<DiscrepanciesView> Show(CancellationToken cancellation)
    {
        var house = await places.House(cancellation);
        string? Name(Guid? id) => house.Areas.Find(area => area.Id == id)?.Name ?? house.Cages.Find(cage => cage.Id == id)?.Name;
        var open = new List<ToSettle>();
        foreach (var discrepancy in await reader.ReadAsync(day.HouseId, cancellation))
        {
            var conflict = discrepancy.Kind == DiscrepancyKind.TwoRowsOneKey ? await book.Conflicts.AsNoTracking().FirstOrDefaultAsync(conflict => conflict.Id == discrepancy.SubjectId, cancellation) : null;
            // Where no row is named, all rows of the lot are meant.
            IReadOnlyList<Fact> facts = discrepancy switch
            {
                { FactIds.Count: > 0 } => await book.Facts.AsNoTracking().Where(fact => EF.Parameter(discrepancy.FactIds).Contains(fact.Id)).OrderBy(fact => fact.Arrival).ToListAsync(cancellation),
                { LotId: { } lotId } => [.. Ledger.Standing(await LotFacts.Of(book, lotId, cancellation)).Where(fact => fact is Entry or Transfer or Release or FoundDead)],
                _ => [],
            };
            open.Add(new(
                discrepancy.SubjectId,
                discrepancy.Kind,
                discrepancy.Sentence,
                discrepancy.LotId is { } about ? await book.Lots.Where(lot => lot.Id == about).Select(lot => lot.Taxon).FirstOrDefaultAsync(cancellation) : null,
                discrepancy.LotId is { } id && discrepancy.Kind != DiscrepancyKind.UnknownLot ? LotCode.Of(id) : null,
                discrepancy.Excess,
                discrepancy.Kind == DiscrepancyKind.MoreCountedThanHung,
                [.. facts.Select(fact => Row(fact, Name))],
                conflict is null ? null : Second(conflict, Name),
                conflict is null ? null : await Picture(conflict, cancellation)));
        }

        return new(
            open.Count switch { 0 => "Everything adds up", 1 => "One thing does not add up", var count => $"{count} things do not add up" },
            open);
    }

    private LotRow Row(Fact fact, Func<Guid?, string?> name) => new(
        fact.Id,
        $"{DayWords.Near(fact.OnDay, day.Today)}",
        fact.Who,
        Words(fact, name),
        fact.Note,
        fact.OnDay == day.Today,
        fact is Entry,
        false);

    private static string Words(Fact fact, Func<Guid?, string?> name) => fact switch
    {
        FoundDead { LotId: null } dead => $"{dead.Count} {dead.Taxon} found dead",
        Delivery delivery => $"box {delivery.BoxMark} taken in",
        LotFact or Release or FoundDead or LotSource => CountWords.Of(fact, name),
        Walk walk => $"walk {walk.Path}",
        Photo => "a photo",
        _ => "a row of another kind",
    };

    private static string? Second(FactConflict conflict, Func<Guid?, string?> name) =>
        conflict.RefusedPhoto() is null && JsonSerializer.Deserialize<Fact>(conflict.Body, FactJson.Options) is { } fact ? $"{Words(fact, name)}{(fact.Who.Length == 0 ? "" : $", by {fact.Who}")}" : null;

    private async Task<Guid?> Picture(FactConflict conflict, CancellationToken cancellation)
    {
        if (conflict.RefusedPhoto() is not { } photo)
        {
            return null;
        }

        var key = PhotoShelf.OtherKey(photo.Id, photo.Sha256);
        return await book.PhotoImages.AnyAsync(image => image.PhotoId == key, cancellation) ? key : null;
    }
}
