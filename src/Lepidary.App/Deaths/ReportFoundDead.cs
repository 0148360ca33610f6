using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Lepidary.Taxa;
using UUIDNext;

namespace Lepidary.App.Deaths;

/// <summary>So many adults of one taxon, as a form or a command line says it.</summary>
/// <param name="Where">What messages call the line.</param>
/// <param name="Taxon">A name as printed.</param>
/// <param name="Count">Adults.</param>
internal sealed record SpeciesCount(string Where, string Taxon, int Count)
{
    /// <summary>The count by section of a path, the first one first; one for the whole of it.</summary>
    public IReadOnlyList<int> Parts { get; init; } = [Count];
}

/// <summary>What was found dead on one day in one place.</summary>
internal sealed record DeadAdults
{
    /// <summary>Key, made with the form: sent twice, each row is there once.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    public DateOnly? OnDay { get; init; }

    /// <summary>Flight area, or null where not known.</summary>
    public Guid? AreaId { get; init; }

    /// <summary>The lot in whose cage they died before they were let go; null for adults that flew.</summary>
    public string? Lot { get; init; }

    public IReadOnlyList<SpeciesCount> Counts { get; init; } = [];

    /// <summary>Sex of all of them, or null where it was not told.</summary>
    public AdultSex? Sex { get; init; }

    public string Who { get; init; } = "";

    public string? Note { get; init; }
}

/// <summary>What was written down.</summary>
internal sealed record DeadReported(IReadOnlyList<FoundDead> Rows, Receipt Receipt);

/// <summary>Writes down adults found dead, one row a taxon.</summary>
internal sealed class ReportFoundDead(BookContext book, HouseDay day, FactInbox inbox, FindLot finder, Places places)
{
    public async Task<Checked<DeadReported>> Do(DeadAdults dead, CancellationToken cancellation)
    {
        var problems = FactDays.Check(dead.OnDay, day.Today).ToList();
        if (dead.AreaId is { } area && (await places.House(cancellation)).Areas.TrueForAll(other => other.Id != area))
        {
            problems.Add(new("area", area.ToString(), "a flight area of this house"));
        }

        Lot? lot = null;
        if (dead.Lot is { } named)
        {
            var found = await finder.Find(named, cancellation);
            problems.AddRange(found.Problems);
            lot = found.IsGood ? found.Value : null;
        }

        if (dead.Counts.Sum(count => count.Count) == 0)
        {
            problems.Add(new("found dead", "nothing", "at least one, with its species"));
        }

        var names = await SettledFinder.Of(book, cancellation);
        var rows = new List<FoundDead>();
        foreach (var count in dead.Counts.Where(count => count.Count > 0))
        {
            var match = lot is not null && count.Taxon.Length == 0 ? lot.Taxon : names.Find(count.Taxon, NameContext.None).Taxon?.Name;
            if (match is null)
            {
                problems.Add(new($"{count.Where}, species", count.Taxon.Length == 0 ? "nothing" : count.Taxon, "a scientific name, or a common name that means one species"));
                continue;
            }

            rows.Add(new FoundDead
            {
                Id = Uuid.NewNameBased(dead.Id, FormattableString.Invariant($"{rows.Count} {match}")),
                HouseId = day.HouseId,
                OnDay = dead.OnDay ?? day.Today,
                DeviceTime = dead.MadeAt ?? day.Now,
                Who = dead.Who,
                Note = dead.Note,
                LotId = lot?.Id,
                Taxon = match,
                AreaId = dead.AreaId,
                Count = count.Count,
                Sex = dead.Sex,
            });
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var taken = await inbox.Take(cancellation, rows);
        return taken.IsGood ? new DeadReported(rows, taken.Value) : taken.Problems.ToArray();
    }
}
