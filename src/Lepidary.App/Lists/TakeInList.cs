using Lepidary.Book;
using Lepidary.Lists;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Lists;

/// <summary>A list handed in.</summary>
/// <param name="SupplierId">Who sent it.</param>
/// <param name="FileName">As it came.</param>
/// <param name="Content">As it came.</param>
/// <param name="OnDay">The house's day.</param>
/// <param name="At">The instant.</param>
internal sealed record HandedList(Guid SupplierId, string FileName, byte[] Content, DateOnly OnDay, DateTimeOffset At);

/// <summary>Reads a list into the book: its offers, charges and every line, with the file as it came.</summary>
internal sealed class TakeInList(BookContext book, ListShelf shelf)
{
    public async Task<Checked<KeptList>> Take(HandedList handed, CancellationToken cancellation)
    {
        var supplier = await book.Suppliers.AsNoTracking().SingleOrDefaultAsync(supplier => supplier.Id == handed.SupplierId, cancellation);
        if (supplier is null)
        {
            return new Problem("supplier", "none that this book knows", "a supplier of the house; add one on the page House");
        }

        var read = ListReader.Read(handed.Content, handed.FileName, await SupplierMemory.Options(book, supplier, handed.OnDay, cancellation), cancellation);
        if (!read.IsGood)
        {
            return read.Problems.ToArray();
        }

        return await shelf.KeepAsync(Row(handed, read.Value), cancellation);
    }

    private static ReceivedList Row(HandedList handed, SupplierList list) => new()
    {
        SupplierId = handed.SupplierId,
        FileName = handed.FileName,
        ReceivedAt = handed.At,
        OnDay = handed.OnDay,
        Sha256 = ListShelf.Sha256(handed.Content),
        Format = list.Format,
        Currency = list.Currency,
        Date = list.Date,
        PricesExcludeTax = list.PricesExcludeTax,
        Original = new ListOriginal { Bytes = handed.Content },
        Offers = [.. list.Offers.Select(offer => new OfferRow
        {
            Line = offer.Line,
            Sheet = offer.Sheet,
            Text = offer.Text,
            Taxon = offer.Taxon,
            Form = offer.Form,
            Kind = offer.Kind.ToString().ToLowerInvariant(),
            Price = offer.Price,
            Breaks = [.. offer.Breaks.Select(step => new OfferBreak { From = step.From, Price = step.Price })],
            Pack = offer.Pack,
            Minimum = offer.Minimum,
            Available = offer.Available,
            SoldOut = offer.SoldOut,
            Note = offer.Note,
            CommonName = offer.CommonName,
            Doubts = [.. offer.Doubts],
            Candidates = [.. offer.Candidates],
        })],
        Charges = [.. list.Charges.Select(charge => new ChargeRow { Line = charge.Line, Text = charge.Text, Amount = charge.Amount, Per = charge.Per.ToString().ToLowerInvariant() })],
        Lines = [.. list.Lines.Select(line => new LineRow
        {
            Line = line.Line,
            Sheet = line.Sheet,
            Text = line.Text,
            Kind = line.Kind.ToString().ToLowerInvariant(),
            Why = string.Join(" ", list.Doubts.Where(doubt => doubt.Line == line.Line).Select(doubt => doubt.Why)),
        })],
    };
}
