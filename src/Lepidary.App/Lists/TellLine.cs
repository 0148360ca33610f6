using Lepidary.Book;
using Lepidary.Lists;
using Lepidary.Taxa;
using UUIDNext;

namespace Lepidary.App.Lists;

/// <summary>The keeper says what a line of a list offers, once and for every list to come.</summary>
internal sealed class TellLine(BookContext book, CurrentLists lists, TeachLayout teach)
{
    /// <param name="listId">The list.</param>
    /// <param name="form">What is said, of one line or of every line that is in doubt for one reason.</param>
    /// <param name="who">Who says so.</param>
    /// <param name="cancellation">Leaves it unwritten.</param>
    public async Task<IReadOnlyList<Problem>> Tell(Guid listId, LineForm form, string who, CancellationToken cancellation)
    {
        if (await lists.One(listId, cancellation) is not { } list)
        {
            return [new("list", listId.ToString(), "a list that is in the book")];
        }

        // A name as the keeper writes it, old or short, means a species of the table where it means one at all.
        var species = string.IsNullOrWhiteSpace(form.Species) ? null : (await SettledFinder.Of(book, cancellation)).Find(form.Species, NameContext.None).Taxon?.Name ?? form.Species;
        var texts = string.IsNullOrEmpty(form.Why) ? [form.Text] : ToldLine.Alike(list.List, form.Why);
        return await teach.Teach(
            [.. texts.Select((text, index) => new LayoutWord(index == 0 ? form.Key : Uuid.NewNameBased(form.Key, text), list.Supplier.Id, LearntMatter.Line, text, form.Meaning(species), who, form.Made))],
            cancellation);
    }
}
