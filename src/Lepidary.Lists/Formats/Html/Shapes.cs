using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Lepidary.Lists.Reading;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Formats.Html;

/// <summary>What is in an element, seen from afar.</summary>
internal sealed class Shape
{
    /// <summary>Characters of text.</summary>
    public int Length { get; set; }

    public bool HasDigit { get; set; }

    public bool HasTable { get; set; }

    /// <summary>True when it holds several records side by side: it is no record itself.</summary>
    public bool HasRecords { get; set; }

    /// <summary>Children that are records.</summary>
    public HashSet<IElement> Records { get; } = [];

    /// <summary>The child that names the columns of the records, or null.</summary>
    public IElement? Titles { get; set; }

    /// <summary>Pieces of text that a reader sees apart: cells, lines, blocks. Empty when it is too long to be a record.</summary>
    public List<Piece> Pieces { get; set; } = [];
}

/// <summary>A piece of text that stands by itself.</summary>
/// <param name="Text">As seen; of a piece that is struck in part, what is not struck.</param>
/// <param name="Struck">All of it is struck through.</param>
internal sealed record Piece(string Text, bool Struck);

/// <summary>
/// Finds the records of a page: elements that stand in a row, are built alike and hold each one offer, such as cards, rows made of divisions,
/// entries of a list. All elements are looked at once, from the innermost outwards.
/// </summary>
internal sealed class Shapes(PageLook look)
{
    /// <summary>Longer ones are sections of a page.</summary>
    private const int LongestRecord = 500;

    private const int MostPieces = 24;

    /// <summary>Fewer may be alike by chance.</summary>
    private const int FewestRecords = 2;

    private readonly Dictionary<IElement, Shape> shapes = [];

    public Shape Of(IElement element) => shapes.TryGetValue(element, out var shape) ? shape : Empty;

    private static readonly Shape Empty = new();

    /// <summary>Looks at an element and all in it.</summary>
    public void Look(IElement root)
    {
        foreach (var child in root.Children)
        {
            if (!look.IsUnseen(child))
                Look(child);
        }
        var shape = new Shape { HasTable = root is IHtmlTableElement };
        shapes[root] = shape;
        foreach (var node in root.ChildNodes)
        {
            if (node is IText text)
            {
                shape.Length += text.Data.AsSpan().Trim().Length;
                shape.HasDigit |= text.Data.Any(char.IsAsciiDigit);
            }
            else if (node is IElement element && shapes.TryGetValue(element, out var inner))
            {
                shape.Length += inner.Length;
                shape.HasDigit |= inner.HasDigit;
                shape.HasTable |= inner.HasTable;
                shape.HasRecords |= inner.HasRecords;
            }
        }
        if (shape.Length is > 0 and <= LongestRecord && !shape.HasTable)
            shape.Pieces = Pieces(root, look);
        if (!shape.HasTable || root is not IHtmlTableElement)
            Records(root, shape);
    }

    private void Records(IElement root, Shape shape)
    {
        if (root.ChildElementCount < FewestRecords || root.LocalName is "table" or "tbody" or "thead" or "tr" or "dl")
            return;
        foreach (var alike in root.Children.Where(shapes.ContainsKey).GroupBy(child => (child.LocalName, child.ClassList.Length > 0 ? child.ClassList[0] : "")))
        {
            if (alike.Key.LocalName is "br" or "span" or "a" or "b" or "i" or "em" or "strong")
                continue;
            var all = alike.Where(child => shapes[child].Length > 0).ToList();
            var records = all.FindAll(child => IsRecord(shapes[child]));
            if (records.Count < FewestRecords || records.Count * 10 < all.Count * 6 || records.Count(child => shapes[child].HasDigit) * 10 < records.Count * 4)
                continue;
            // "Price: 2.40", "Stock: 40": parts of one record.
            if (records.Count(child => ColumnTitles.Read(shapes[child].Pieces[0].Text.TrimEnd(':')) is not null) * 2 > records.Count)
                continue;
            shape.Records.UnionWith(records);
            shape.HasRecords = true;
        }
        if (shape.Records.Count > 0)
            shape.Titles = root.Children.FirstOrDefault(child => shapes.TryGetValue(child, out var one) && one.Pieces.Count > 1 && ColumnTitles.CountIn(one.Pieces.Select(piece => piece.Text)) > 1);
    }

    private static bool IsRecord(Shape shape) =>
        !shape.HasTable && !shape.HasRecords && shape.Pieces.Count is > 1 and <= MostPieces && shape.Pieces.Exists(piece => piece.Text.Count(char.IsLetter) > 3) && shape.Pieces.Count(IsOffer) <= 1;

    /// <summary>A piece with a name and a price in it is an offer by itself; several of them are several offers.</summary>
    public static bool IsOffer(Piece piece)
    {
        var tokens = Tokeniser.Cut(piece.Text, null);
        return tokens.Find(token => token.Kind == TokenKind.Word) is { Meanings.Count: 0, Text.Length: > 2 } && tokens.Exists(token => token.Kind == TokenKind.Currency || (token.Kind == TokenKind.Number && token.Decimals is 1 or 2));
    }

    /// <summary>The texts of an element that stand apart.</summary>
    public static List<Piece> Pieces(IElement root, PageLook look)
    {
        var pieces = new List<Piece>();
        // Elements and nothing between them: each is a cell, an empty one too.
        var children = root.Children.Where(child => child.LocalName != "br" && !look.IsUnseen(child)).ToList();
        if (children.Count > 1 && root.LocalName is not ("p" or "a") && !root.Children.Any(child => child.LocalName == "br") && root.ChildNodes.All(node => node is not IText text || string.IsNullOrWhiteSpace(text.Data)) && children.TrueForAll(child => !children[0].LocalName.StartsWith('h') || child == children[0] || child.LocalName != children[0].LocalName))
        {
            var inner = children.ConvertAll(child => Lines(child, look, look.IsStruck(root)));
            if (inner.TrueForAll(lines => lines.Count <= 1))
                return inner.ConvertAll(lines => lines.Count == 0 ? new Piece("", false) : lines[0]);
        }
        pieces.AddRange(Lines(root, look, struck: false));
        return pieces;
    }

    private static List<Piece> Lines(IElement root, PageLook look, bool struck)
    {
        var text = new PieceText();
        text.Collect(root, look, struck || look.IsStruck(root));
        return text.Pieces();
    }

    /// <summary>Pieces in one line: a label joined to what it labels, all else parted by bars.</summary>
    public static string Joined(IEnumerable<Piece> pieces)
    {
        var line = new System.Text.StringBuilder();
        var label = false;
        foreach (var piece in pieces.Where(piece => piece.Text.Length > 0))
        {
            if (line.Length > 0)
                line.Append(label ? " " : " | ");
            line.Append(piece.Text);
            label = piece.Text.EndsWith(':') || IsLabel(piece.Text);
            if (label && !piece.Text.EndsWith(':'))
                line.Append(':');
        }
        return line.ToString();
    }

    private static bool IsLabel(string text) =>
        !text.Any(char.IsAsciiDigit) && ColumnTitles.Read(text) is { Role: ColumnRole.Price or ColumnRole.Available or ColumnRole.Pack or ColumnRole.Minimum or ColumnRole.Name or ColumnRole.Common or ColumnRole.Quantity }
        && !(ColumnEvidence.Whole(text) is var whole && (whole.Contains(Meaning.SoldOut) || whole.Contains(Meaning.Yes) || whole.Contains(Meaning.Each) && !whole.Contains(Meaning.Price)));
}
