using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Book;
using Microsoft.EntityFrameworkCore;

namespace Lepidary.App.Photos;

/// <summary>A photo as a page shows it.</summary>
/// <param name="Id">Key.</param>
/// <param name="Words">What it shows, when and by whom.</param>
public sealed record PhotoShown(Guid Id, string Words);

/// <summary>Finds the photos of something.</summary>
internal sealed class PhotosTaken(BookContext book, HouseDay day)
{
    /// <summary>Those of a box, a lot or a fact, in the order in which they came.</summary>
    /// <param name="aboutId">What they show.</param>
    /// <param name="what">What to call one of which nobody said what it shows.</param>
    public async Task<IReadOnlyList<PhotoShown>> Of(Guid aboutId, string what, CancellationToken cancellation) =>
    [
        .. (await book.Standing<Photo>(day.HouseId).Where(photo => photo.AboutId == aboutId).OrderBy(photo => photo.Arrival).ToListAsync(cancellation))
            .Select(photo => new PhotoShown(photo.Id, $"{photo.Note ?? what}, {DayWords.Near(photo.OnDay, day.Today)}{(photo.Who.Length == 0 ? "" : $", {photo.Who}")}")),
    ];
}
