using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>What the keeper says of a supplier's lists.</summary>
/// <param name="Key">Made when the keeper was asked: saying it twice with one key says it once.</param>
/// <param name="SupplierId">Supplier.</param>
/// <param name="Matter">What it is about.</param>
/// <param name="Column">For a column: its title as printed, or <c>#3</c> for the third where it has none; for a line: the line as printed.</param>
/// <param name="Meaning">As <see cref="LearntOfList.Meaning"/>.</param>
/// <param name="Who">Who says so.</param>
/// <param name="Made">When the keeper was asked.</param>
internal sealed record LayoutWord(Guid Key, Guid SupplierId, LearntMatter Matter, string Column, string Meaning, string Who, DateTimeOffset Made);

/// <summary>The keeper says what a supplier's lists mean, once and for every list to come.</summary>
internal sealed class TeachLayout(BookContext book, FactInbox inbox, HouseDay day)
{
    /// <summary>What a keeper may say that a column holds.</summary>
    public static IReadOnlyList<ColumnRole> Roles { get; } =
        [ColumnRole.Name, ColumnRole.Common, ColumnRole.Genus, ColumnRole.Epithet, ColumnRole.Form, ColumnRole.Price, ColumnRole.OldPrice, ColumnRole.Pack, ColumnRole.Minimum, ColumnRole.Available, ColumnRole.Order, ColumnRole.Total, ColumnRole.Status, ColumnRole.Note, ColumnRole.Code, ColumnRole.Aside];

    /// <summary>Says one thing.</summary>
    public Task<IReadOnlyList<Problem>> Teach(LayoutWord word, CancellationToken cancellation) => Teach([word], cancellation);

    /// <summary>Says several things; all are written, or none where one of them can't be.</summary>
    public async Task<IReadOnlyList<Problem>> Teach(IReadOnlyList<LayoutWord> words, CancellationToken cancellation)
    {
        var suppliers = words.Select(word => word.SupplierId).ToHashSet();
        if (await book.Suppliers.AsNoTracking().CountAsync(supplier => suppliers.Contains(supplier.Id), cancellation) < suppliers.Count)
        {
            return [new("supplier", "none that this book knows", "a supplier of the house")];
        }

        var facts = words.Select(Fact).ToList();
        var problems = facts.SelectMany(fact => fact.Problems).ToList();
        if (problems.Count > 0 || facts.Count == 0)
        {
            return problems;
        }

        var receipts = await inbox.ReceiveAsync([.. facts.Select(fact => fact.Value)], cancellation);
        return [.. receipts.SelectMany(receipt => receipt.Problems)];
    }

    private Checked<LearntOfList> Fact(LayoutWord word)
    {
        var column = word.Matter is LearntMatter.Column or LearntMatter.Line ? word.Column.Trim() : "";
        if (word.Matter == LearntMatter.Column && column.Length is 0 or > 200)
        {
            return new Problem("column", "nothing", "its title as printed, or #3 for the third column");
        }

        if (word.Matter == LearntMatter.Line && ToldLine.KeyOf(column).Length is 0 or > 1000)
        {
            return new Problem("line", "nothing", "a line of the list as printed");
        }

        var meaning = Meaning(word.Matter, word.Meaning.Trim());
        return meaning.IsGood
            ? new LearntOfList
            {
                Id = word.Key,
                HouseId = day.HouseId,
                OnDay = day.Today,
                DeviceTime = word.Made,
                Who = word.Who,
                SupplierId = word.SupplierId,
                Matter = word.Matter,
                ColumnKey = word.Matter switch { LearntMatter.Column => ReadColumn.KeyOf(column, 0), LearntMatter.Line => ToldLine.KeyOf(column), _ => "" },
                Meaning = meaning.Value,
            }
            : meaning.Problems.ToArray();
    }

    private static Checked<string> Meaning(LearntMatter matter, string said) => matter switch
    {
        LearntMatter.Column => Roles.Where(role => role.ToString().Equals(said, StringComparison.OrdinalIgnoreCase)).Select(role => role.ToString()).FirstOrDefault() is { } role ? role : new Problem("what the column holds", said, $"one of {string.Join(", ", Roles)}"),
        LearntMatter.Currency => said.Length == 3 && said.All(char.IsAsciiLetter) ? said.ToUpperInvariant() : new Problem("currency", said, "three letters, as EUR"),
        LearntMatter.Tax => said is SupplierMemory.Excluded or SupplierMemory.Included ? said : new Problem("tax", said, $"{SupplierMemory.Excluded} or {SupplierMemory.Included}"),
        LearntMatter.PriceUnit => said is SupplierMemory.Pack or SupplierMemory.One ? said : new Problem("price", said, $"{SupplierMemory.Pack} or {SupplierMemory.One}"),
        LearntMatter.Line => ToldLine.Parse("", said) is { IsGood: false } wrong ? wrong.Problems.ToArray() : ToldLine.Parse("", said).Value.Meaning,
        _ => throw new InvalidOperationException($"Matter {matter}."),
    };
}
