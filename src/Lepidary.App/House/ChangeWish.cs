using System.Globalization;
using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.House;

/// <summary>A wish as a keeper puts it.</summary>
internal sealed record WishSaid
{
    /// <summary>The wish it takes the place of; null for a new one.</summary>
    public Guid? InsteadOf { get; init; }

    public AimKind Kind { get; init; }

    /// <summary>A species, a genus, a family, a tag; null for all butterflies.</summary>
    public string? Of { get; init; }

    /// <summary>Adults, species or pairs; null where nothing was typed.</summary>
    public int? AtLeast { get; init; }

    /// <summary>The chance wanted, 0.5 to below 1.</summary>
    public double Sure { get; init; } = 0.8;

    /// <summary>1…5.</summary>
    public int Importance { get; init; } = 1;

    public DateOnly? From { get; init; }

    public DateOnly? To { get; init; }

    /// <summary>Days of the week that it is for; none or all mean every open day.</summary>
    public Weekdays Days { get; init; }

    /// <summary>Only pupae of the next order count (breeding).</summary>
    public bool NewBlood { get; init; }
}

/// <summary>Puts a wish to the house, changes one or gives one up. A wish that was is ended, not lost: what was ordered for it can still be read.</summary>
internal sealed class ChangeWish(BookContext book, HouseDay day)
{
    /// <returns>Everything that is wrong; empty when the wish stands.</returns>
    public async Task<IReadOnlyList<Problem>> Put(WishSaid said, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var selector = Selector(said, problems);
        if (said.AtLeast is not (>= 1 and <= HouseRules.MostWished))
        {
            problems.Add(new("how many", said.AtLeast?.ToString(CultureInfo.InvariantCulture) ?? "nothing", $"a number from 1 to {HouseRules.MostWished}"));
        }

        if (!HouseRules.IsSure(said.Sure))
        {
            problems.Add(new("how sure", said.Sure.ToString("0.##", CultureInfo.InvariantCulture), HouseRules.SureWanted));
        }

        if (said.Importance is not (>= 1 and <= HouseRules.MostImportant))
        {
            problems.Add(new("importance", said.Importance.ToString(CultureInfo.InvariantCulture), $"1 to {HouseRules.MostImportant}"));
        }

        if (said.From > said.To)
        {
            problems.Add(new("last day", $"{said.To:yyyy-MM-dd}", $"a day not before {said.From:yyyy-MM-dd}"));
        }

        var instead = await Standing(said.InsteadOf, problems, cancellation);
        if (problems.Count > 0)
        {
            return problems;
        }

        var wish = new Aim
        {
            HouseId = day.HouseId,
            Kind = said.Kind,
            Selector = selector,
            AtLeast = said.AtLeast!.Value,
            Sure = said.Sure,
            Importance = said.Importance,
            From = said.From,
            To = said.To,
            Days = said.Days is Weekdays.None or Weekdays.All ? null : said.Days,
            NewBlood = said.Kind == AimKind.Breeding && said.NewBlood,
        };
        if (instead is not null && ChangeHouse.Same(instead, wish))
        {
            return [];
        }

        if (instead is not null)
        {
            instead.EndedOn = day.Today;
        }

        var standing = await book.Aims.Where(aim => aim.HouseId == day.HouseId && aim.EndedOn == null).ToListAsync(cancellation);
        if (!standing.Exists(aim => aim != instead && ChangeHouse.Same(aim, wish)))
        {
            book.Aims.Add(wish);
        }

        await book.SaveChangesAsync(cancellation);
        return [];
    }

    /// <returns>What is wrong; empty when the wish is given up.</returns>
    public async Task<IReadOnlyList<Problem>> GiveUp(Guid wish, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        if (await Standing(wish, problems, cancellation) is { } there)
        {
            there.EndedOn = day.Today;
            await book.SaveChangesAsync(cancellation);
        }

        return problems;
    }

    private static string Selector(WishSaid said, List<Problem> problems)
    {
        if (said.Kind == AimKind.Variety || (said.Kind == AimKind.Display && said.Of is null))
        {
            return "all";
        }

        const string where = "of what";
        if (said.Of is not { } of)
        {
            problems.Add(new(where, "nothing", "the species to breed"));
            return "";
        }

        var table = TaxonTable.Shipped;
        if (said.Kind == AimKind.Display && table.Tags.Contains(of.ToLowerInvariant()))
        {
            return "tag:" + of.ToLowerInvariant();
        }

        // A name as a list would spell it: an old one, a common one, a slip. Only a name without a doubt is taken.
        var match = new NameFinder(table).Find(of, NameContext.None);
        if (match is { Taxon: { } taxon, Doubts.Count: 0 })
        {
            return taxon.Name;
        }

        var read = TaxonSelector.Read(of, table, where);
        if (read.IsGood && (read.Value.Rank == SelectorRank.Species ? table.Find(read.Value.Text) is not null : said.Kind == AimKind.Display))
        {
            return read.Value.Text;
        }

        problems.Add(new(where, of, said.Kind == AimKind.Breeding
            ? "the name of a species"
            : $"a species, a genus, a family, or one of {string.Join(", ", table.Tags.Order(StringComparer.Ordinal))}"));
        return "";
    }

    private async Task<Aim?> Standing(Guid? wish, List<Problem> problems, CancellationToken cancellation)
    {
        if (wish is not { } id)
        {
            return null;
        }

        var there = await book.Aims.FirstOrDefaultAsync(aim => aim.Id == id && aim.HouseId == day.HouseId && aim.EndedOn == null, cancellation);
        if (there is null)
        {
            problems.Add(new("wish", "one that is not there, or is ended", "a wish of the page House"));
        }

        return there;
    }
}
