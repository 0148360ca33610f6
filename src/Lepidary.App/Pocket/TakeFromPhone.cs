using System.Text.Json;
using System.Text.Json.Nodes;
using Lepidary.App.Host;
using Lepidary.Book;
using Lepidary.Taxa;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Pocket;

/// <summary>What became of one row, as the phone is told it.</summary>
/// <param name="Id">The row's key as the phone gave it; null where it gave none that can be read.</param>
/// <param name="Outcome"><c>written</c>, <c>there</c>, <c>conflict</c> (all three: the book has it, forget it) or <c>refused</c> (keep it and show it).</param>
/// <param name="Problems">Why it was refused.</param>
internal sealed record PhoneReceipt(string? Id, string Outcome, IReadOnlyList<Problem> Problems)
{
    /// <summary>The word for what became of a row or a photo.</summary>
    public static string Word(Receipt receipt) => receipt switch
    {
        Receipt.Accepted => "written",
        Receipt.Duplicate => "there",
        Receipt.Conflict => "conflict",
        Receipt.Refused => "refused",
        _ => throw new InvalidOperationException($"Receipt {receipt}."),
    };
}

/// <summary>The answer to a batch.</summary>
/// <param name="Receipts">One a row, in the order in which they were sent.</param>
/// <param name="Now">The house's clock.</param>
/// <param name="Today">The house's day.</param>
internal sealed record PhoneAnswer(IReadOnlyList<PhoneReceipt> Receipts, DateTimeOffset Now, DateOnly Today);

/// <summary>
/// Takes rows from a phone's outbox. Each is read by itself: one that cannot be read is refused alone and the rest is written. Rows of
/// a phone that was away for weeks are as good as those of today.
/// </summary>
internal sealed class TakeFromPhone(BookContext book, HouseDay day, FactInbox inbox)
{
    /// <summary>Most rows in one batch.</summary>
    public const int MostRows = 200;

    /// <summary>What a phone writes. Anything else is the office's.</summary>
    private static readonly IReadOnlyList<Type> _kinds = [typeof(Entry), typeof(Release), typeof(FoundDead), typeof(Walk), typeof(Reading), typeof(Photo), typeof(Move), typeof(Recount), typeof(Delivery), typeof(PackingStep), typeof(Voiding)];

    public async Task<Checked<PhoneAnswer>> Do(JsonNode? body, CancellationToken cancellation)
    {
        if (body is not JsonObject batch || batch["format"] is not JsonValue format || !format.TryGetValue<int>(out var number) || batch["facts"] is not JsonArray rows)
        {
            return new Problem("batch", "something else", "format and facts");
        }

        if (number != 1)
        {
            return new Problem("format", $"{number}", "1, the one that this program knows");
        }

        if (rows.Count > MostRows)
        {
            return new Problem("facts", $"{rows.Count} rows", $"at most {MostRows} in one batch");
        }

        var suppliers = await book.Suppliers.Select(supplier => supplier.Id).ToListAsync(cancellation);
        var read = rows.Select(row => Read(row, suppliers)).ToList();
        var received = new Queue<FactReceipt>(await inbox.ReceiveAsync([.. read.Select(row => row.Fact).OfType<Fact>()], cancellation));
        return new PhoneAnswer([.. read.Select(row => row.Fact is null ? row.Refused! : Told(received.Dequeue()))], day.Now, day.Today);
    }

    private static PhoneReceipt Told(FactReceipt receipt) => new(receipt.FactId.ToString(), PhoneReceipt.Word(receipt.Receipt), receipt.Problems);

    /// <summary>A row, or why it cannot be one.</summary>
    private static (Fact? Fact, PhoneReceipt? Refused) Read(JsonNode? row, IReadOnlyCollection<Guid> suppliers)
    {
        var id = row is JsonObject members && members["id"] is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;
        if (!Guid.TryParse(id, out _))
        {
            return (null, new(id, "refused", [new("id", id ?? "nothing", "the key that the phone gave the row")]));
        }

        try
        {
            var fact = row.Deserialize<Fact>(FactJson.Options);
            if (fact is null || !_kinds.Contains(fact.GetType()))
            {
                return (null, new(id, "refused", [new("kind", fact?.GetType().Name ?? "nothing", "what a phone writes: a count, a release, a walk, the found dead, a reading, a photo, a box, a lot hung elsewhere, or a row taken back")]));
            }

            if (fact is Delivery box && Wrong(box, suppliers) is { Count: > 0 } wrongs)
            {
                return (null, new(id, "refused", wrongs));
            }

            return fact is Walk walk && row!["counts"] is JsonArray counts && counts.Any(count => count?["id"] is null)
                ? (null, new(id, "refused", [new("walk", "a count without a key", "a key for each, made by the phone: else it could be doubled")]))
                : (fact, null);
        }
        catch (Exception wrong) when (wrong is JsonException or NotSupportedException or InvalidOperationException or FormatException)
        {
            return (null, new(id, "refused", [new("row", wrong.Message, "a row as this program writes it")]));
        }
    }

    /// <summary>What of a box its page could not show: it is for a phone of this program to send none such.</summary>
    private static IReadOnlyList<Problem> Wrong(Delivery box, IReadOnlyCollection<Guid> suppliers) =>
    [
        .. suppliers.Contains(box.SupplierId) ? Array.Empty<Problem>() : [new("supplier", box.SupplierId.ToString(), "a supplier of this book")],
        .. box.Lines.Count > 0 ? Array.Empty<Problem>() : [new("lines", "none", "at least one line with what was in the box")],
        .. from taxon in box.Lines.Select(line => line.Taxon).Concat(box.Lots.Select(lot => lot.Taxon)).Distinct()
           where TaxonTable.Shipped.Find(taxon) is null
           select new Problem("species", taxon, "a species of the table"),
        .. from lot in box.Lots
           where box.Lines.Find(line => line.Id == lot.DeliveryLineId)?.Alive != lot.Received
           select new Problem($"lot of {lot.Taxon}", $"{lot.Received}", "as many as its line says are alive"),
    ];
}
