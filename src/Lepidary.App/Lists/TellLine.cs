using Lepidary.Book;
using Lepidary.Lists;

namespace Lepidary.App.Lists;

/// <summary>The keeper says what a line of a list offers, once and for every list to come.</summary>
internal sealed class TellLine(CurrentLists lists, TeachLayout teach)
{
    /// <param name="listId">The list.</param>
    /// <param name="form">What is said, of one line or of every line that is in doubt for one reason.</param>
    /// <param name="who">Who says so.</param>
    /// <param name="cancellation">Leaves what is not yet written.</param>
    public async Task<IReadOnlyList<Problem>> Tell(Guid listId, LineForm form, string who, CancellationToken cancellation)
    {
        if (await lists.One(listId, cancellation) is not { } list)
        {
            return [new("list", listId.ToString(), "a list that is in the book")];
        }

        var texts = string.IsNullOrEmpty(form.Why) ? [form.Text] : Alike(list.List, form.Why);
        var problems = new List<Problem>();
        foreach (var (text, index) in texts.Select((text, index) => (text, index)))
        {
            problems.AddRange(await teach.Teach(new LayoutWord(index == 0 ? form.Key : BookId.New(), list.Supplier.Id, LearntMatter.Line, text, form.Meaning(), who, form.Made), cancellation));
        }

        return problems;
    }

    /// <summary>The lines, as printed, that are in doubt for one reason alone and that can stand as they were read.</summary>
    public static IReadOnlyList<string> Alike(SupplierList list, string why) =>
    [
        .. from doubts in list.Doubts.Where(doubt => doubt.About == DoubtAbout.Line && doubt.Line > 0).GroupBy(doubt => (doubt.Line, doubt.Text))
           where doubts.All(doubt => doubt.Why == why)
           where list.Offers.Any(offer => offer.Line == doubts.Key.Line && offer.Text == doubts.Key.Text && CanStand(offer))
           select doubts.Key.Text,
    ];

    /// <summary>Whether something can be ordered of an offer as it was read, or is known not to be.</summary>
    public static bool CanStand(Offer offer) => offer.SoldOut || offer.Price is > 0;
}
