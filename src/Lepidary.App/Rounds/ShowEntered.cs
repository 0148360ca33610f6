using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>What the page says after something was written down.</summary>
/// <param name="FactId">The row, for taking it back.</param>
/// <param name="LotCode">The lot.</param>
/// <param name="Taxon">Its taxon.</param>
/// <param name="Sentence">What was written.</param>
/// <param name="Others">What others wrote on the same lot since the form was made, in sentences; all of it is kept.</param>
/// <param name="Discrepancies">What of the lot does not add up.</param>
/// <param name="InConflict">True where the same form was sent before with other figures.</param>
public sealed record EnteredView(
    Guid FactId, string LotCode, string Taxon, string Sentence, IReadOnlyList<string> Others, IReadOnlyList<string> Discrepancies, bool InConflict)
{
    /// <summary>True where the keeper should stop and read.</summary>
    public bool NeedsReading => Others.Count > 0 || Discrepancies.Count > 0 || InConflict;
}

/// <summary>Says what was written down, what somebody else wrote meanwhile, and what does not add up.</summary>
internal sealed class ShowEntered(BookContext book, HouseDay day, Places places)
{
    /// <summary>The notice; null where there is no such row about a lot.</summary>
    /// <param name="factId">Entry or release.</param>
    /// <param name="seen">The newest row that was known when the form was made; rows that came in later are news.</param>
    public async Task<EnteredView?> Show(Guid factId, long seen, CancellationToken cancellation)
    {
        var fact = await book.Facts.AsNoTracking().FirstOrDefaultAsync(fact => fact.Id == factId && fact.HouseId == day.HouseId, cancellation);
        var lotId = fact switch { Entry entry => entry.LotId, Release release => release.LotId, _ => null };
        if (fact is null || lotId is null || await book.Lots.AsNoTracking().FirstOrDefaultAsync(lot => lot.Id == lotId, cancellation) is not { } lot)
        {
            return null;
        }

        var house = await places.House(cancellation);
        string? Name(Guid? id) => house.Areas.Find(area => area.Id == id)?.Name ?? house.Cages.Find(cage => cage.Id == id)?.Name;
        var facts = await LotFacts.Of(book, lot.Id, cancellation);
        var standing = Ledger.Standing(facts);
        var with = EnterCount.ReleaseWith(factId);
        var letGo = standing.OfType<Release>().FirstOrDefault(release => release.Id == with);
        var sentence = CountWords.Of(fact, Name);
        if (letGo is not null)
        {
            sentence += Name(letGo.AreaId ?? letGo.CageId) is { } place ? $", released into {place}" : ", released";
        }

        if (fact.VoidsId is not null)
        {
            sentence += "; the earlier count no longer counts";
        }

        // A release that goes with an entry is told with it.
        var companions = standing.OfType<Entry>().Select(entry => EnterCount.ReleaseWith(entry.Id)).ToHashSet();
        var others = standing
            .Where(other => other.Arrival > seen && other.Id != factId && other.Id != with
                && other is Entry or Release or FoundDead or Transfer && !companions.Contains(other.Id))
            .Select(other => $"{(other.Who.Length == 0 ? "Somebody" : other.Who)} entered {CountWords.Of(other, Name)} at {Time(other)}; both are kept.")
            .ToList();
        return new(
            factId,
            LotCode.Of(lot.Id),
            lot.Taxon,
            sentence,
            others,
            [.. Ledger.Discrepancies(lot, facts).Select(discrepancy => discrepancy.Sentence)],
            await book.Conflicts.AnyAsync(conflict => conflict.FactId == factId, cancellation));
    }

    private string Time(Fact fact) => day.Local(fact.DeviceTime).ToString("HH:mm", CultureInfo.InvariantCulture);
}
