using System.Text;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Lepidary.Lists.Reading;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Formats.Html;

/// <summary>Goes through a page in reading order and collects its lines, tables and records.</summary>
internal sealed class PageWalk(DocumentRows rows, PageLook look)
{
    private readonly Shapes shapes = new(look);
    private readonly HashSet<IElement> outerTables = [];
    private readonly StringBuilder line = new();
    private bool struckLine;

    public void Read(IElement body)
    {
        shapes.Look(body);
        FindOuterTables(body, null);
        Block(body, struck: false);
        Flush();
    }

    private void FindOuterTables(IElement element, IElement? table)
    {
        foreach (var child in element.Children)
        {
            if (child is IHtmlTableElement && table is not null)
                outerTables.Add(table);
            FindOuterTables(child, child is IHtmlTableElement ? child : table);
        }
    }

    private void Flush()
    {
        rows.Line(line.ToString(), struckLine);
        line.Clear();
        struckLine = false;
    }

    private void Block(IElement node, bool struck)
    {
        var shape = shapes.Of(node);
        if (shape.Titles is not null)
        {
            RecordsUnderTitles(node, shape, struck);
            return;
        }
        INode? before = null;
        foreach (var child in node.ChildNodes)
        {
            if (child is IText text)
                Words(text.Data, struck);
            else if (child is IElement element && !look.IsUnseen(element))
                Element(element, before, shape, struck);
            before = child;
        }
    }

    private void Words(string text, bool struck)
    {
        if (struck && text.Trim().Length > 0 && line.ToString().Trim().Length == 0)
            struckLine = true;
        else if (!struck && text.Trim().Length > 0 && struckLine)
            (struckLine, _) = (false, line.Clear());
        if (!struck || struckLine)
            line.Append(text);
    }

    private void Element(IElement element, INode? before, Shape shape, bool struck)
    {
        struck |= look.IsStruck(element);
        if (element is IHtmlTableElement table && Table(table))
            return;
        if (element is IHtmlBreakRowElement)
        {
            Flush();
        }
        else if (element is IHtmlImageElement { AlternativeText: { Length: > 0 and < 40 } alternative })
        {
            if (Vocabulary.Of(alternative.Trim(' ', '!', '.')).Contains(Meaning.SoldOut))
                line.Append(' ').Append(alternative).Append(' ');
        }
        else if (element.LocalName is "pre" or "listing" or "xmp")
        {
            Flush();
            Preformatted(element);
        }
        else if (element.LocalName == "dl")
        {
            Flush();
            Definitions(element, struck);
        }
        else if (shape.Records.Contains(element))
        {
            Flush();
            Record(shapes.Of(element).Pieces, struck);
        }
        else
        {
            var block = PageLook.IsBlock(element.LocalName);
            if (block)
                Flush();
            else if (before is IElement { LocalName: "span" or "label" or "small" } && element.LocalName is "span" or "small" or "label" or "strong" or "b")
                line.Append(' ');
            Block(element, struck);
            if (block)
                Flush();
        }
    }

    private void Record(List<Piece> pieces, bool struck)
    {
        var filled = pieces.FindAll(piece => piece.Text.Length > 0);
        // A struck name is an offer taken back; any other struck piece is a price that no longer holds.
        if (filled.Count > 0)
            rows.Line(Shapes.Joined(filled[0].Struck ? filled : filled.FindAll(piece => !piece.Struck)), struck || filled[0].Struck);
    }

    /// <summary>Rows made of other elements than a table's, under a row of titles.</summary>
    private void RecordsUnderTitles(IElement node, Shape shape, bool struck)
    {
        Flush();
        var width = shapes.Of(shape.Titles!).Pieces.Count;
        var table = new List<IReadOnlyList<Cell>>();
        void End()
        {
            if (table.Count > 0)
                rows.Table(table);
            table = [];
        }

        var below = false;
        foreach (var child in node.ChildNodes)
        {
            below |= child == shape.Titles;
            if (child is IText text)
            {
                if (text.Data.Trim().Length == 0)
                    continue;
                End();
                Words(text.Data, struck);
            }
            else if (child is IElement element && !look.IsUnseen(element))
            {
                var inner = shapes.Of(element);
                if (below && (child == shape.Titles || shape.Records.Contains(element)))
                {
                    var row = struck || look.IsStruck(element);
                    table.Add(inner.Pieces.Count == width
                        ? [.. inner.Pieces.Select((piece, i) => new Cell(i, piece.Text) { Struck = row || piece.Struck })]
                        : [new Cell(0, Shapes.Joined(inner.Pieces)) { Struck = row }]);
                }
                else if (below && inner is { Length: > 0 and < 80, Pieces: [{ } alone] } && !inner.HasRecords && !inner.HasTable)
                {
                    // A family between the rows.
                    table.Add([new Cell(0, alone.Text) { Struck = alone.Struck }]);
                }
                else
                {
                    End();
                    Flush();
                    Element(element, null, shape, struck);
                    Flush();
                }
            }
        }
        End();
        Flush();
    }

    /// <summary>Terms and what is said of each: one record a term, or one of all where the terms are labels.</summary>
    private void Definitions(IElement list, bool struck)
    {
        var parts = list.Children.SelectMany(child => child.LocalName == "div" ? child.Children.AsEnumerable() : [child]).Where(child => !look.IsUnseen(child)).ToList();
        var terms = parts.FindAll(part => part.LocalName == "dt");
        var labels = terms.Count(term => ColumnTitles.Read(DocumentRows.Clean(term.TextContent).TrimEnd(':')) is not null) * 2 > terms.Count;
        if (terms.Count == 0 || parts.Exists(part => shapes.Of(part).HasTable || shapes.Of(part).HasRecords) || parts.Count > 10_000)
        {
            foreach (var part in parts)
            {
                Block(part, struck || look.IsStruck(part));
                Flush();
            }
            return;
        }
        var record = new List<Piece>();
        var wasTerm = false;
        foreach (var part in parts)
        {
            var isTerm = part.LocalName == "dt";
            if (isTerm && !wasTerm && record.Count > 0 && !labels)
                End();
            var text = new PieceText();
            text.Collect(part, look, struck || look.IsStruck(part));
            var pieces = text.Pieces();
            if (!isTerm && (pieces.Count(Shapes.IsOffer) > 1 || pieces.Sum(piece => piece.Text.Length) > 500 || (pieces.Exists(Shapes.IsOffer) && record.Exists(piece => Shapes.IsOffer(piece)))))
            {
                // A family as the term, and its offers below.
                End();
                foreach (var piece in pieces)
                    rows.Line(piece.Text, piece.Struck);
            }
            else
            {
                record.AddRange(pieces);
            }
            wasTerm = isTerm;
        }
        End();

        void End()
        {
            Record(record, struck);
            record = [];
        }
    }

    /// <summary>Text that keeps its lines and spaces: as in a text file.</summary>
    private void Preformatted(IElement element)
    {
        var text = new StringBuilder();
        Collect(element);
        rows.Text(Lines.Of(text.ToString()));

        void Collect(INode node)
        {
            foreach (var child in node.ChildNodes)
            {
                if (child is IText words)
                    text.Append(words.Data);
                else if (child is IHtmlBreakRowElement)
                    text.Append('\n');
                else if (child is IElement inner && !look.IsUnseen(inner) && !look.IsStruck(inner))
                    Collect(inner);
            }
        }
    }

    /// <summary>Reads a table; false when it only lays out the page, and what is in it is read piece by piece.</summary>
    private bool Table(IHtmlTableElement table)
    {
        var seen = table.Rows.Where(row => !look.IsUnseen(row)).ToList();
        if (outerTables.Contains(table) && !seen.Take(3).Any(row => row.Cells.Length > 1 && row.QuerySelector("table") is null && ColumnTitles.CountIn(row.Cells.Select(cell => DocumentRows.Clean(cell.TextContent))) > 1))
            return false;
        Flush();
        if (table.Caption is { } caption && !look.IsUnseen(caption))
            rows.Line(caption.TextContent);
        var cells = seen.SelectMany(row => row.Cells).Where(cell => !look.IsUnseen(cell)).ToList();
        // Cards set in a table: each cell is an offer.
        var cards = cells.FindAll(cell => shapes.Of(cell) is { Pieces.Count: > 1 and <= 12, HasDigit: true } shape && shape.Pieces.Count(Shapes.IsOffer) <= 1
            && shape.Pieces.Exists(piece => piece.Text.Count(char.IsLetter) > 5 && !piece.Text.Any(char.IsAsciiDigit) && ColumnTitles.Read(piece.Text) is null) && shape.Pieces.Exists(HasMoney));
        if (cards.Count > 2 && cards.Count * 10 >= cells.Count(cell => shapes.Of(cell).Length > 0) * 6)
        {
            foreach (var cell in cells)
                Record(shapes.Of(cell).Pieces, look.IsStruck(cell));
            return true;
        }
        rows.Table(Grid(seen));
        return true;
    }

    private static bool HasMoney(Piece piece) => Tokeniser.Cut(piece.Text, null).Exists(token => token.Kind == TokenKind.Currency || (token.Kind == TokenKind.Number && token.Decimals is 1 or 2));

    private IEnumerable<IReadOnlyList<Cell>> Grid(List<IHtmlTableRowElement> seen)
    {
        var grid = new SpanningTable();
        foreach (var row in seen)
        {
            grid.BeginRow();
            foreach (var cell in row.Cells)
            {
                if (look.IsUnseen(cell))
                {
                    grid.Add("");
                    continue;
                }
                var text = new PieceText();
                text.Collect(cell, look, struck: false);
                var pieces = text.Pieces();
                var kept = pieces.FindAll(piece => !piece.Struck);
                var title = row == seen[0] || cell.LocalName == "th";
                grid.Add(Cell(kept.Count > 0 ? kept : pieces, title), struck: (kept.Count == 0 && pieces.Count > 0) || look.IsStruck(row) || look.IsStruck(cell), cell.ColumnSpan, cell.RowSpan);
            }
        }
        return grid.Rows;
    }

    /// <summary>Lines of a cell: what begins with a capital is something new, a common name below the scientific one.</summary>
    private static string Cell(List<Piece> pieces, bool title)
    {
        var text = new StringBuilder();
        foreach (var piece in pieces)
        {
            if (text.Length > 0)
                text.Append(!title && (char.IsUpper(piece.Text[0]) || char.IsAsciiDigit(piece.Text[0]) || piece.Text[0] == '(' || Currencies.IsSign(piece.Text[0])) ? " | " : " ");
            text.Append(piece.Text);
        }
        return text.ToString();
    }
}
