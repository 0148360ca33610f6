using Lepidary.App.Host;
using Lepidary.Book;

namespace Lepidary.App.Pocket;

/// <summary>
/// Takes the bytes of a photo from a phone. The answer is the last one, whatever it is: what cannot be kept as the phone sent it stands among what does not
/// add up, with the picture where it is one, and the phone may forget it.
/// </summary>
internal sealed class TakePhoto(HouseDay day, PhotoShelf shelf)
{
    /// <returns>Written, there, or in conflict; and why it is in conflict.</returns>
    public async Task<(Receipt Receipt, IReadOnlyList<Problem> Problems)> Do(Guid id, byte[] bytes, CancellationToken cancellation)
    {
        var kept = await shelf.KeepAsync(id, bytes, cancellation);
        if (kept.IsGood)
        {
            return (kept.Value, []);
        }

        await shelf.RefuseAsync(id, day.HouseId, bytes, kept.Problems, cancellation);
        return (Receipt.Conflict, kept.Problems);
    }
}
