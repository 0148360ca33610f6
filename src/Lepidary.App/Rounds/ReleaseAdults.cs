using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Rounds;

/// <summary>Adults of a lot let go, or put to a pair.</summary>
internal sealed record AdultsLetGo
{
    /// <summary>Key, made with the form.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>When the form was made; null for now.</summary>
    public DateTimeOffset? MadeAt { get; init; }

    /// <summary>The lot's code or key.</summary>
    public required string Lot { get; init; }

    /// <summary>The day; null for today.</summary>
    public DateOnly? OnDay { get; init; }

    public int Male { get; init; }

    public int Female { get; init; }

    public int Unsexed { get; init; }

    /// <summary>Area or cage for pairs; null for the house's largest area.</summary>
    public Guid? To { get; init; }

    public string? Note { get; init; }

    public string Who { get; init; } = "";
}

/// <summary>What came of a release.</summary>
internal sealed record AdultsReleased(Guid ReleaseId, Lot Lot, Receipt Receipt, string? To, LotBalance Balance, IReadOnlyList<Discrepancy> Discrepancies);

/// <summary>Writes down a release. More let go than emerged is kept and shown.</summary>
internal sealed class ReleaseAdults(BookContext book, HouseDay day, FactInbox inbox, FindLot finder, Places places)
{
    public async Task<Checked<AdultsReleased>> Do(AdultsLetGo letGo, CancellationToken cancellation)
    {
        var found = await finder.Find(letGo.Lot, cancellation);
        var place = await places.Find(letGo.To, cancellation);
        List<Problem> problems = [.. found.Problems, .. FactDays.Check(letGo.OnDay, day.Today), .. place.Problems];
        if (letGo.Male + letGo.Female + letGo.Unsexed == 0)
        {
            problems.Add(new("release", "nobody", "males, females or not told above 0"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var lot = found.Value;
        var to = place.Value ?? await places.Usual(cancellation);
        var taken = await inbox.Take(cancellation, new Release
        {
            Id = letGo.Id,
            HouseId = day.HouseId,
            OnDay = letGo.OnDay ?? day.Today,
            DeviceTime = letGo.MadeAt ?? day.Now,
            Who = letGo.Who,
            Note = letGo.Note,
            LotId = lot.Id,
            Taxon = lot.Taxon,
            AreaId = to is { IsCage: false } ? to.Id : null,
            CageId = to is { IsCage: true } ? to.Id : null,
            Male = letGo.Male,
            Female = letGo.Female,
            Unsexed = letGo.Unsexed,
        });
        if (!taken.IsGood)
        {
            return taken.Problems.ToArray();
        }

        var about = await LotFacts.Of(book, lot.Id, cancellation);
        return new AdultsReleased(letGo.Id, lot, taken.Value, to?.Name, Ledger.Balance(lot, about), Ledger.Discrepancies(lot, about));
    }
}
