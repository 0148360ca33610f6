using Lepidary.App.Host;
using Lepidary.App.Odds;
using Lepidary.App.Photos;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>One row about a lot as the keeper reads it.</summary>
/// <param name="Id">Key, for taking it back.</param>
/// <param name="When"><c>today 09:12</c>, <c>Fri 27 Nov</c>.</param>
/// <param name="Who">Who wrote it; may be empty.</param>
/// <param name="Words">What it says.</param>
/// <param name="Note">In the keeper's words, or null.</param>
/// <param name="IsToday">True for a row about today.</param>
/// <param name="IsEntry">True for a count, which can be corrected.</param>
/// <param name="TakenBack">True where another row voids it.</param>
public sealed record LotRow(Guid Id, string When, string Who, string Words, string? Note, bool IsToday, bool IsEntry, bool TakenBack);

/// <summary>A button that enters a whole count at once.</summary>
/// <param name="Out">Adults out, all fine.</param>
/// <param name="Words">What stands on it.</param>
/// <param name="AsExpected">True for what the forecast holds likeliest.</param>
internal sealed record QuickCount(int Out, string Words, bool AsExpected);

/// <summary>The figures that stand in the form, for a correction.</summary>
internal sealed record EntryFigures(Guid? Corrects, int Male, int Female, int Unsexed, int Crippled, int Dead, int Parasitised, int Missing, string? Note, DateOnly OnDay, bool Released, Guid? ReleasedTo);

/// <summary>One lot, to be looked at.</summary>
internal sealed record LotView
{
    public required RoundLot Lot { get; init; }

    public required LotBalance Balance { get; init; }

    /// <summary>Where its pupae are, in a sentence.</summary>
    public required string Sentence { get; init; }

    public required IReadOnlyList<LotRow> Today { get; init; }

    public required IReadOnlyList<LotRow> Earlier { get; init; }

    public required IReadOnlyList<QuickCount> Quick { get; init; }

    public required IReadOnlyList<Place> Places { get; init; }

    /// <summary>Where the buttons that enter everything at once release to; null in a house without areas.</summary>
    public string? UsualPlace { get; init; }

    public required string DryingHint { get; init; }

    public required IReadOnlyList<Discrepancy> Discrepancies { get; init; }

    /// <summary>What to do at once, where parasitoids came out of this lot today; else empty.</summary>
    public required IReadOnlyList<string> Hygiene { get; init; }

    /// <summary>What is known of the house's rows when the page is made; a later one is news.</summary>
    public required long Seen { get; init; }

    /// <summary>Keys for the forms on the page.</summary>
    public Guid EntryId { get; } = BookId.New();

    public Guid QuickId { get; } = BookId.New();

    public Guid ReleaseId { get; } = BookId.New();

    public Guid DiedId { get; } = BookId.New();

    public Guid MoveId { get; } = BookId.New();

    public Guid SplitId { get; } = BookId.New();

    public Guid MergeId { get; } = BookId.New();

    /// <summary>Lots with which it can be hung: the same species, supplier and day.</summary>
    public required IReadOnlyList<RoundLot> Mergeable { get; init; }

    public required IReadOnlyList<PhotoShown> Photos { get; init; }

    /// <summary>Cages that pupae can hang in.</summary>
    public required IReadOnlyList<Place> Cages { get; init; }

    public required string MadeAt { get; init; }

    public required DateOnly Day { get; init; }

    /// <summary>Figures of the entry to correct, or null.</summary>
    public EntryFigures? Correcting { get; init; }

    public string? Previous { get; init; }

    public string? Next { get; init; }

    /// <summary><c>4 of 20</c> in the order of the round.</summary>
    public required string Number { get; init; }

    /// <summary>False where the delivery or the hanging that brought it was taken back.</summary>
    public bool Stands { get; init; } = true;
}

/// <summary>Lays out one lot of the round.</summary>
internal sealed class ShowLot(BookContext book, HouseDay day, FindLot finder, ShowRound round, OddsBook odds, Places places, PhotosTaken photos)
{
    /// <summary>The lot; problems where there is none.</summary>
    /// <param name="corrects">Entry to put into the form for correction, or null.</param>
    public async Task<Checked<LotView>> Show(string named, Guid? corrects, CancellationToken cancellation)
    {
        var found = await finder.Find(named, cancellation);
        if (!found.IsGood)
        {
            return found.Problems.ToArray();
        }

        var lot = found.Value;
        var seen = await book.Facts.MaxAsync(fact => (long?)fact.Arrival, cancellation) ?? 0;
        var facts = await LotFacts.Of(book, lot.Id, cancellation);
        var balance = Ledger.Balance(lot, facts);
        var order = (await round.Show(cancellation)).Lots.ToList();
        var at = order.FindIndex(other => other.Id == lot.Id);
        var shown = at >= 0 ? order[at] : await Finished(lot, balance, cancellation);
        var voided = facts.Select(fact => fact.VoidsId).OfType<Guid>().ToHashSet();
        var house = await places.House(cancellation);
        string? Name(Guid? id) => house.Areas.Find(area => area.Id == id)?.Name ?? house.Cages.Find(cage => cage.Id == id)?.Name;
        var rows = facts.Where(fact => fact is not Voiding)
            .Select(fact => (fact.OnDay, Row: new LotRow(fact.Id, When(fact), fact.Who, CountWords.Of(fact, Name), fact.Note, fact.OnDay == day.Today, fact is Entry, voided.Contains(fact.Id))))
            .ToList();
        return new LotView
        {
            Lot = shown,
            Balance = balance,
            Sentence = Sentence(balance),
            Today = [.. rows.Where(row => row.OnDay == day.Today).Select(row => row.Row)],
            Earlier = [.. rows.Where(row => row.OnDay != day.Today).OrderByDescending(row => row.OnDay).Select(row => row.Row)],
            Quick = Quick(shown),
            Places = await places.ForAdults(cancellation),
            Cages = [.. house.Cages.Where(cage => cage.Use == CageUse.Emergence).Select(cage => new Place(cage.Id, cage.Name, true))],
            Mergeable = shown.HangingNow == 0 ? [] : order.FindAll(other => other.Id != lot.Id && other.HangingNow > 0 && (other.Taxon, other.Form, other.Supplier, other.HungOn) == (shown.Taxon, shown.Form, shown.Supplier, shown.HungOn)),
            Photos = await photos.Of(lot.Id, "The lot", cancellation),
            UsualPlace = (await places.Usual(cancellation))?.Name,
            DryingHint = Drying.Hint(lot.Taxon, day.Local(day.Now)),
            Discrepancies = Ledger.Discrepancies(lot, facts),
            Hygiene = Ledger.Standing(facts).OfType<Entry>().Any(entry => entry.OnDay == day.Today && entry.Parasitised > 0) ? Hygiene.Steps : [],
            Seen = seen,
            MadeAt = day.Now.ToString("O", System.Globalization.CultureInfo.InvariantCulture),
            Day = day.Today,
            Correcting = corrects is { } id && facts.OfType<Entry>().FirstOrDefault(entry => entry.Id == id) is { } old ? Figures(old, facts) : null,
            Previous = at > 0 ? order[at - 1].Code : null,
            Next = at >= 0 && at + 1 < order.Count ? order[at + 1].Code : null,
            Number = at >= 0 ? $"{at + 1} of {order.Count}" : "done",
            Stands = !await book.Facts.AnyAsync(fact => fact.VoidsId == lot.SourceId, cancellation),
        };
    }

    /// <summary>Where the pupae of a lot are, in a sentence.</summary>
    public static string Sentence(LotBalance balance)
    {
        var parts = new List<string> { $"{balance.Received} hung" };
        Add(balance.Emerged, "out");
        Add(balance.Crippled, "crippled");
        Add(balance.Dead, "dead");
        Add(balance.Parasitised, "parasitised");
        Add(balance.Missing, "missing");
        Add(balance.Transferred, "gone elsewhere");
        Add(balance.Hanging, "hanging");
        var sentence = $"{parts[0]}: {string.Join(", ", parts.Skip(1))}.";
        return balance.ToRelease > 0 ? $"{sentence} {balance.ToRelease} to be let go." : sentence;

        void Add(int count, string what)
        {
            if (count > 0)
            {
                parts.Add($"{count} {what}");
            }
        }
    }

    private async Task<RoundLot> Finished(Lot lot, LotBalance balance, CancellationToken cancellation)
    {
        var supplier = lot.SupplierId is { } id ? await book.Suppliers.Where(supplier => supplier.Id == id).Select(supplier => supplier.Name).FirstOrDefaultAsync(cancellation) : null;
        var learned = await odds.Learned(day.HouseId, day.Today, cancellation);
        return new()
        {
            Id = lot.Id,
            Code = LotCode.Of(lot.Id),
            Taxon = lot.Taxon,
            Form = lot.Form,
            Supplier = supplier,
            Cage = await places.NameOf(balance.CageId, cancellation),
            Row = balance.Row,
            Position = balance.Position,
            HungOn = lot.HungOn,
            DaysHung = day.Today.DayNumber - lot.HungOn.DayNumber,
            Received = balance.Received,
            HungYesterday = balance.Hanging,
            HangingNow = balance.Hanging,
            ToRelease = balance.ToRelease,
            Excess = balance.Excess,
            Ahead = [EmergingToday.Of(balance, supplier, learned, day.Today)],
        };
    }

    private static List<QuickCount> Quick(RoundLot lot)
    {
        if (lot.HangingNow == 0)
        {
            return [];
        }

        var likely = Math.Min(lot.Expected.Likely, lot.HangingNow);
        return
        [
            .. new[] { likely, likely + 1, likely - 1, 0 }.Distinct().Where(count => count >= 0 && count <= lot.HangingNow)
                .Select(count => new QuickCount(
                    count,
                    (count, count == likely) switch
                    {
                        (0, true) => "As expected: nothing out, all fine",
                        (0, false) => "Nothing out, all fine",
                        (_, true) => $"As expected: {count} out, all fine, released",
                        (_, false) => $"{count} out, all fine, released",
                    },
                    count == likely)),
        ];
    }

    private static EntryFigures Figures(Entry old, IReadOnlyList<Fact> facts)
    {
        var release = Ledger.Standing(facts).OfType<Release>().FirstOrDefault(release => release.Id == EnterCount.ReleaseWith(old.Id));
        return new(
            old.Id, old.EmergedMale, old.EmergedFemale, old.EmergedUnsexed, old.Crippled, old.Dead, old.Parasitised, old.Missing, old.Note, old.OnDay,
            release is not null, release?.AreaId ?? release?.CageId);
    }

    private string When(Fact fact)
    {
        var written = day.Local(fact.DeviceTime);
        return DateOnly.FromDateTime(written) == fact.OnDay
            ? $"{DayWords.Near(fact.OnDay, day.Today)} {written.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture)}"
            : DayWords.Near(fact.OnDay, day.Today);
    }
}
