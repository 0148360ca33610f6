using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Lepidary.Taxa;
using UUIDNext;

namespace Lepidary.App.Marks;

/// <summary>Marked adults that were seen on one day.</summary>
internal sealed record MarksSeen
{
    /// <summary>Key, made with the form: sent twice, each row is there once.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    public DateOnly? OnDay { get; init; }

    /// <summary>Flight area, or null where not known.</summary>
    public Guid? AreaId { get; init; }

    /// <summary>A name as printed.</summary>
    public string Taxon { get; init; } = "";

    /// <summary>Marks, parted by spaces or commas.</summary>
    public string Marks { get; init; } = "";

    /// <summary>Sex of all of them, or null where it was not told.</summary>
    public AdultSex? Sex { get; init; }

    public string Who { get; init; } = "";

    public string? Note { get; init; }
}

/// <summary>What was written down.</summary>
/// <param name="Fresh">Marks that were new.</param>
/// <param name="Again">Marks that were met again.</param>
internal sealed record MarksWritten(IReadOnlyList<MarkedAdult> Rows, int Fresh, int Again, Receipt Receipt);

/// <summary>Writes down marked adults that were marked or met again, one row a mark.</summary>
internal sealed class WriteMark(BookContext book, HouseDay day, FactInbox inbox, Places places, ReadMarks read)
{
    private static readonly char[] Between = [' ', ',', ';', '\n', '\r', '\t'];

    public async Task<Checked<MarksWritten>> Do(MarksSeen seen, CancellationToken cancellation)
    {
        var problems = FactDays.Check(seen.OnDay, day.Today).ToList();
        if (seen.AreaId is { } area && (await places.House(cancellation)).Areas.TrueForAll(other => other.Id != area))
        {
            problems.Add(new("area", area.ToString(), "a flight area of this house"));
        }

        // Small letters and capitals look alike on a wing.
        var marks = seen.Marks.ToUpperInvariant().Split(Between, StringSplitOptions.RemoveEmptyEntries).Distinct().ToList();
        if (marks.Count == 0)
        {
            problems.Add(new("marks", "nothing", "what is written on the wings, as A17 A18"));
        }

        var taxon = (await SettledFinder.Of(book, cancellation)).Find(seen.Taxon, NameContext.None).Taxon?.Name;
        if (taxon is null)
        {
            problems.Add(new("species", seen.Taxon.Length == 0 ? "nothing" : seen.Taxon, "a scientific name, or a common name that means one species"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var on = seen.OnDay ?? day.Today;
        var known = (await read.Of(cancellation)).Where(row => row.Taxon == taxon && row.OnDay < on).Select(row => row.Mark).ToHashSet();
        var rows = marks.ConvertAll(mark => new MarkedAdult
        {
            Id = Uuid.NewNameBased(seen.Id, $"{taxon} {mark}"),
            HouseId = day.HouseId,
            OnDay = on,
            DeviceTime = seen.MadeAt ?? day.Now,
            Who = seen.Who,
            Note = seen.Note,
            Mark = mark,
            Taxon = taxon!,
            Sex = seen.Sex,
            AreaId = seen.AreaId,
        });
        var taken = await inbox.Take(cancellation, rows);
        var again = marks.Count(known.Contains);
        return taken.IsGood ? new MarksWritten(rows, marks.Count - again, again, taken.Value) : taken.Problems.ToArray();
    }
}
