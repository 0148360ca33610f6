using Lepidary.App.Deaths;
using Lepidary.App.Host;
using Lepidary.App.Lists;
using Lepidary.App.Rounds;
using Lepidary.Book;
using Lepidary.Taxa;
using UUIDNext;

namespace Lepidary.App.Walks;

/// <summary>A count of flying adults along a fixed path.</summary>
internal sealed record WalkDone
{
    /// <summary>Key, made with the form.</summary>
    public Guid Id { get; init; } = BookId.New();

    public DateTimeOffset? MadeAt { get; init; }

    public DateOnly? OnDay { get; init; }

    /// <summary>The path's name.</summary>
    public string? Path { get; init; }

    public Guid? AreaId { get; init; }

    /// <summary>Local time of the first step; null for now.</summary>
    public TimeOnly? Start { get; init; }

    public int? Minutes { get; init; }

    /// <summary>Sections into which the path is divided; null for one.</summary>
    public int? Sections { get; init; }

    public string? Weather { get; init; }

    /// <summary>Degrees Celsius in the shade, or null.</summary>
    public double? TemperatureC { get; init; }

    /// <summary>Share of the walk in sun, percent; or null.</summary>
    public int? SunPercent { get; init; }

    /// <summary>Wind by the Beaufort scale; or null.</summary>
    public int? Beaufort { get; init; }

    /// <summary>What was seen; noughts are kept, they say that a species was looked for.</summary>
    public IReadOnlyList<SpeciesCount> Counts { get; init; } = [];

    public string Who { get; init; } = "";

    public string? Note { get; init; }
}

/// <summary>What was written down.</summary>
internal sealed record WalkRecorded(Walk Walk, Receipt Receipt);

/// <summary>Writes a walk down.</summary>
internal sealed class RecordWalk(BookContext book, HouseDay day, FactInbox inbox, Places places)
{
    /// <summary>Longer than anybody walks and counts.</summary>
    private const int MostMinutes = 240;

    /// <summary>More sections than any path in a house has.</summary>
    private const int MostSections = 30;

    public async Task<Checked<WalkRecorded>> Do(WalkDone done, CancellationToken cancellation)
    {
        var problems = FactDays.Check(done.OnDay, day.Today).ToList();
        if (string.IsNullOrWhiteSpace(done.Path))
        {
            problems.Add(new("path", "nothing", "the path's name; counts along one path can be compared"));
        }

        if (done.Minutes is not (>= 1 and <= MostMinutes))
        {
            problems.Add(new("minutes", done.Minutes?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "nothing", $"1 to {MostMinutes}"));
        }

        if (done.AreaId is { } area && (await places.House(cancellation)).Areas.TrueForAll(other => other.Id != area))
        {
            problems.Add(new("area", area.ToString(), "a flight area of this house"));
        }

        if (done.Sections is < 1 or > MostSections)
        {
            problems.Add(new("sections", $"{done.Sections}", $"1 to {MostSections}, or nothing"));
        }

        var names = await SettledFinder.Of(book, cancellation);
        var counts = new List<WalkCount>();
        foreach (var count in done.Counts)
        {
            if (names.Find(count.Taxon, NameContext.None).Taxon is not { } taxon)
            {
                problems.Add(new($"{count.Where}, species", count.Taxon.Length == 0 ? "nothing" : count.Taxon, "a scientific name, or a common name that means one species"));
            }
            else if (counts.Exists(other => other.Taxon == taxon.Name))
            {
                problems.Add(new($"{count.Where}, species", $"{taxon.Name} a second time", "each species once"));
            }
            else if (count.Parts.Count == 1)
            {
                counts.Add(new() { Id = Uuid.NewNameBased(done.Id, taxon.Name), Taxon = taxon.Name, Count = count.Count });
            }
            else if (count.Parts.Count != done.Sections)
            {
                problems.Add(new($"{count.Where}, seen", CountParts.Write(count.Parts), done.Sections is > 1 and var sections ? $"{sections} counts, one a section, or one for the whole path" : "one count; or say into how many sections the path is divided"));
            }
            else
            {
                counts.AddRange(count.Parts.Select((seen, at) => new WalkCount { Id = Uuid.NewNameBased(done.Id, FormattableString.Invariant($"{taxon.Name} {at + 1}")), Taxon = taxon.Name, Section = at + 1, Count = seen }));
            }
        }

        if (done.Counts.Count == 0)
        {
            problems.Add(new("counts", "none", "at least one species with its count, 0 where none was seen"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var walk = new Walk
        {
            Id = done.Id,
            HouseId = day.HouseId,
            OnDay = done.OnDay ?? day.Today,
            DeviceTime = done.MadeAt ?? day.Now,
            Who = done.Who,
            Note = done.Note,
            Path = done.Path!.Trim(),
            AreaId = done.AreaId,
            Start = done.Start ?? TimeOnly.FromDateTime(day.Local(done.MadeAt ?? day.Now)),
            Minutes = done.Minutes!.Value,
            Sections = done.Sections is 1 ? null : done.Sections,
            Weather = done.Weather,
            TemperatureC = done.TemperatureC,
            SunPercent = done.SunPercent,
            Beaufort = done.Beaufort,
            Counts = counts,
        };
        var taken = await inbox.Take(cancellation, walk);
        return taken.IsGood ? new WalkRecorded(walk, taken.Value) : taken.Problems.ToArray();
    }
}
