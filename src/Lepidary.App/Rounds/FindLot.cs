using Lepidary.App.Host;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Rounds;

/// <summary>Finds the lot that a label, a link or a command line names: by its code or by its key.</summary>
internal sealed class FindLot(BookContext book, HouseDay day, OpenLots openLots)
{
    /// <summary>The lot, standing or taken back; problems where there is none or the code could be two.</summary>
    public async Task<Checked<Lot>> Find(string named, CancellationToken cancellation)
    {
        if (Guid.TryParse(named, out var key))
        {
            var lot = await book.Lots.AsNoTracking().FirstOrDefaultAsync(lot => lot.Id == key && lot.HouseId == day.HouseId, cancellation);
            return lot is null ? new Problem("lot", named, "the key of a lot of this house") : lot;
        }

        if (LotCode.Read(named) is not { } code)
        {
            return new Problem("lot", named, "a code as K7Q-2M9D from the lot's label: a sign is wrong or missing");
        }

        // What hangs is nearly always meant; only then is the whole book looked through.
        var open = await openLots.ReadAsync(day.HouseId, cancellation);
        var ids = open.Select(balance => balance.Lot.Id).Where(id => LotCode.Of(id) == code).ToList();
        if (ids.Count == 0)
        {
            ids = [.. (await book.Lots.Where(lot => lot.HouseId == day.HouseId).Select(lot => lot.Id).ToListAsync(cancellation)).Where(id => LotCode.Of(id) == code)];
        }

        return ids.Count switch
        {
            0 => new Problem("lot", named, "the code of a lot of this house"),
            1 => await book.Lots.AsNoTracking().SingleAsync(lot => lot.Id == ids[0], cancellation),
            _ => new Problem("lot", named, $"one lot, but {ids.Count} share this code; name it by its key: {string.Join(", ", ids)}"),
        };
    }
}
