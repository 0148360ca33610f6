using System.Text;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Formats.Html;

/// <summary>Collects the text of an element, cut where blocks and breaks part it, with and without what is struck.</summary>
internal sealed class PieceText
{
    private readonly List<(StringBuilder Kept, StringBuilder All)> lines = [(new(), new())];

    public void Collect(INode node, PageLook look, bool struck)
    {
        INode? before = null;
        foreach (var child in node.ChildNodes)
        {
            if (child is IText text)
            {
                Add(text.Data, struck);
            }
            else if (child is IHtmlBreakRowElement)
            {
                Cut();
            }
            else if (child is IHtmlImageElement { AlternativeText: { Length: > 0 and < 40 } alternative })
            {
                if (Vocabulary.Of(alternative.Trim(' ', '!', '.')).Count > 0)
                    Add($" {alternative} ", struck);
            }
            else if (child is IElement element && !look.IsUnseen(element))
            {
                // The cells of a small table within a cell are one line each row.
                var block = PageLook.IsBlock(element.LocalName) && element.LocalName is not ("td" or "th");
                if (block)
                    Cut();
                else if (element.LocalName is "td" or "th")
                    Add(" ", struck);
                // Two inline elements with nothing between are set apart by their style.
                else if (before is IElement { LocalName: "span" or "label" or "a" or "small" } && element.LocalName is "span" or "small" or "a" or "label" or "strong" or "b")
                    Add(" ", struck);
                Collect(element, look, struck || look.IsStruck(element));
                if (block)
                    Cut();
            }
            before = child;
        }
    }

    private void Add(string text, bool struck)
    {
        lines[^1].All.Append(text);
        lines[^1].Kept.Append(struck ? " " : text);
    }

    private void Cut()
    {
        if (lines[^1].All.Length > 0)
            lines.Add((new(), new()));
    }

    public List<Piece> Pieces() => [.. lines
        .Select(line => (Kept: DocumentRows.Clean(line.Kept.ToString()), All: DocumentRows.Clean(line.All.ToString())))
        .Where(line => line.All.Length > 0)
        .Select(line => new Piece(line.Kept.Length > 0 ? line.Kept : line.All, line.Kept.Length == 0))];
}
