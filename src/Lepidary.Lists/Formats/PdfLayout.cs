using System.Text.RegularExpressions;
using Lepidary.Lists.Reading;
using Lepidary.Lists.Words;

namespace Lepidary.Lists.Formats;

/// <summary>A word of a page and where it stands, in points from its lower left corner.</summary>
internal sealed record PageWord(double Left, double Right, double Base, double Size, string Text);

/// <summary>The words of a page.</summary>
/// <param name="Width">In points.</param>
/// <param name="Height">In points.</param>
/// <param name="Words">In any order.</param>
internal sealed record PageWords(double Width, double Height, IReadOnlyList<PageWord> Words);

/// <summary>
/// Rows and columns out of words and where they stand. Columns are the bands between the gaps that run down the page, matched with the titles in
/// their order; a row is the lines nearer to one another than rows are; a page set in columns is read one column after the other.
/// </summary>
internal static partial class PdfLayout
{
    /// <summary>Words with no more than so much of their size between them belong together until something parts them.</summary>
    private const double WideSpace = 0.75;

    /// <summary>Names begin so near one another when they stand in one column; in points.</summary>
    private const double Near = 8;

    /// <summary>Lines nearer than this part of the usual distance belong to one row.</summary>
    private const double Close = 0.72;

    private sealed record Piece(double Left, double Right, IReadOnlyList<PageWord> Words)
    {
        public string Text { get; } = string.Join(' ', Words.Select(word => word.Text));

        public double Middle => (Left + Right) / 2;

        public static Piece Of(IReadOnlyList<PageWord> words) => new(words[0].Left, words.Max(word => word.Right), words);
    }

    /// <summary>One height of a page.</summary>
    private sealed record Line(double Base, double Size, List<Piece> Pieces)
    {
        public string Text { get; } = string.Join("   ", Pieces.Select(piece => piece.Text));

        public bool AreTitles { get; } = ColumnTitles.CountIn(Pieces.Select(piece => piece.Text)) > 1;

        public bool HasMoney { get; } = Pieces.Exists(PdfLayout.HasMoney);

        /// <summary>What only an offer's own line has: a price, or a number beside something else.</summary>
        public bool IsAnchor => HasMoney || (Pieces.Count > 1 && Pieces.Exists(piece => char.IsAsciiDigit(piece.Text[0])));
    }

    /// <summary>Lines that are read together, on one page.</summary>
    private sealed record Part(int Page, PageWords On, List<Line> Lines);

    /// <summary>The rows of the pages in reading order, numbered from 1.</summary>
    public static List<Row> Rows(IReadOnlyList<PageWords> pages)
    {
        var parts = pages.SelectMany((page, i) => Parts(Lines(page)).Select(lines => new Part(i + 1, page, Cut(lines)))).Where(part => part.Lines.Count > 0).ToList();
        // Pages of one table share their columns, also where one of them leaves a column empty.
        var whole = parts.Where(part => parts.Count(other => other.Page == part.Page) == 1).ToList();
        var joint = whole.Count > 1 ? Bands([.. whole.SelectMany(part => part.Lines)]) : [];
        if (joint.Count < 2 || whole.Exists(part => Bands(part.Lines).Count > joint.Count))
            joint = [];
        var leading = Leading(parts);
        var rows = new List<Row>();
        foreach (var part in parts)
            AddPart(rows, part, joint.Count > 0 && whole.Contains(part) ? joint : Bands(part.Lines), leading);
        return rows;
    }

    /// <summary>The lines of a page from top to bottom, each with its pieces from left to right.</summary>
    private static List<Line> Lines(PageWords page)
    {
        var lines = new List<List<PageWord>>();
        foreach (var word in page.Words.OrderByDescending(word => word.Base).ThenBy(word => word.Left))
        {
            // From the last on: the words come by height.
            var at = lines.FindLastIndex(line => Math.Abs(line[0].Base - word.Base) < Math.Max(4, word.Size) * 0.35);
            if (at < 0)
                lines.Add([word]);
            else
                lines[at].Add(word);
        }
        return [.. lines.OrderByDescending(line => line[0].Base).Select(line => Of(line, Pieces(line)))];
    }

    private static Line Of(List<PageWord> words, List<Piece> pieces) => new(words[0].Base, words.Max(word => word.Size), pieces);

    private static List<Piece> Pieces(List<PageWord> words)
    {
        var pieces = new List<List<PageWord>>();
        var size = words.Max(word => word.Size);
        var right = double.MinValue;
        foreach (var word in words.OrderBy(word => word.Left))
        {
            if (pieces.Count > 0 && word.Left - right < size * WideSpace)
                pieces[^1].Add(word);
            else
                pieces.Add([word]);
            right = Math.Max(word.Right, pieces[^1].Count > 1 ? right : double.MinValue);
        }
        return pieces.ConvertAll(Piece.Of);
    }

    /// <summary>Two words of which the first has a capital and neither is one that lists use: perhaps a scientific name.</summary>
    private static bool IsName(Piece piece) => IsName(piece.Text);

    private static bool IsName(string text) => Binomial().IsMatch(text) && Tokeniser.Cut(text, null) is [{ Meanings.Count: 0 }, ..];

    private static bool HasMoney(Piece piece) => piece.Text.Any(char.IsAsciiDigit)
        && Tokeniser.Cut(piece.Text, null).Exists(token => token.Kind == TokenKind.Currency || (token.Kind == TokenKind.Number && (token.Decimals is 1 or 2 || token.Currency is not null)));

    // Parts of a page

    private static List<List<Line>> Parts(List<Line> lines) => BesideTitles(lines) ?? BesideNames(lines);

    /// <summary>Columns that each have the same titles over them: "Name Price | Name Price".</summary>
    private static List<List<Line>>? BesideTitles(List<Line> lines)
    {
        for (var head = 0; head < lines.Count; head++)
        {
            var titles = lines[head].Pieces;
            if (!lines[head].AreTitles)
                continue;
            for (var columns = 4; columns > 1; columns--)
            {
                var width = titles.Count / columns;
                if (titles.Count % columns != 0 || width < 2 || !titles.Select((title, i) => Folded.Of(title.Text) == Folded.Of(titles[i % width].Text)).All(same => same))
                    continue;
                var cuts = new List<double>();
                for (var column = 1; column < columns; column++)
                {
                    if (Corridor([.. lines.Skip(head)], titles[(column * width) - 1].Left, titles[column * width].Left + 1) is not { } cut)
                        return null;
                    cuts.Add(cut);
                }
                var last = lines.FindLastIndex(line => line.Pieces.Exists(piece => piece.Left > cuts[0]) && !line.Pieces.Exists(piece => Crosses(piece, cuts)));
                return Beside(lines, head, last, cuts);
            }
        }
        return null;
    }

    private static bool Crosses(Piece piece, List<double> cuts) => cuts.Exists(cut => piece.Left < cut && piece.Right > cut);

    /// <summary>
    /// A page set in columns, each with names and prices of its own and without titles, is read column after column: what stands over them, each
    /// column from top to bottom, what stands below.
    /// </summary>
    private static List<List<Line>> BesideNames(List<Line> lines)
    {
        if (lines.Exists(line => line.AreTitles))
            return [lines];
        var starts = new List<(double Left, int Count)>();
        foreach (var name in lines.SelectMany(line => line.Pieces).Where(IsName).OrderBy(piece => piece.Left))
        {
            if (starts.Count > 0 && name.Left - starts[^1].Left < Near)
                starts[^1] = (starts[^1].Left, starts[^1].Count + 1);
            else
                starts.Add((name.Left, 1));
        }
        starts.RemoveAll(start => start.Count < 3);
        int Column(Piece piece) => Math.Max(0, starts.FindLastIndex(start => start.Left <= piece.Left + Near));
        bool SideBySide(Line line) => line.Pieces.Where(IsName).Select(Column).Distinct().Count() > 1;
        var first = lines.FindIndex(SideBySide);
        if (starts.Count < 2 || lines.Count(SideBySide) < 3)
            return [lines];
        for (var column = 0; column < starts.Count; column++)
        {
            if (lines.Skip(first).SelectMany(line => line.Pieces).Count(piece => Column(piece) == column && HasMoney(piece)) * 10 < starts[column].Count * 6)
                return [lines];
        }
        // Families over the columns.
        while (first > 0 && lines[first - 1].Pieces.Count > 1 && lines[first - 1].Pieces.Select(Column).Distinct().Count() == lines[first - 1].Pieces.Count)
            first--;
        var last = lines.FindLastIndex(line => line.Pieces.Exists(piece => Column(piece) > 0 || IsName(piece)));
        return Beside(lines, first, last, starts.Skip(1).Select(start => start.Left - 1).ToList());
    }

    private static List<List<Line>> Beside(List<Line> lines, int first, int last, List<double> cuts)
    {
        var edges = (double[])[double.MinValue, .. cuts, double.MaxValue];
        return
        [
            lines[..first],
            .. Enumerable.Range(0, edges.Length - 1).Select(column => lines[first..(last + 1)]
                .Select(line => line with { Pieces = line.Pieces.FindAll(piece => piece.Left >= edges[column] && piece.Left < edges[column + 1]) })
                .Where(line => line.Pieces.Count > 0).Select(line => new Line(line.Base, line.Size, line.Pieces)).ToList()),
            lines[(last + 1)..],
        ];
    }

    /// <summary>The middle of the widest stretch between two places that hardly any word crosses, or null.</summary>
    private static double? Corridor(List<Line> lines, double from, double to)
    {
        var cover = new int[(int)Math.Clamp(to - from, 1, 5000) + 1];
        foreach (var word in lines.SelectMany(line => line.Pieces).SelectMany(piece => piece.Words))
        {
            for (var x = (int)Math.Max(0, word.Left - from); x < cover.Length && x <= word.Right - from; x++)
                cover[x]++;
        }
        var few = lines.Count / 20;
        (int From, int Length) best = (0, 0);
        for (int x = 0, start = 0; x < cover.Length; x++)
        {
            if (cover[x] > few)
                start = x + 1;
            else if (x - start + 1 >= best.Length)
                best = (start, x - start + 1);
        }
        return best.Length < 2 ? null : from + best.From + (best.Length / 2.0);
    }

    // Pieces

    /// <summary>
    /// Cuts pieces that only a narrow gap parts, where that gap runs down the page: a price ranged right beside a number ranged left, a long name
    /// beside the next column.
    /// </summary>
    private static List<Line> Cut(List<Line> lines)
    {
        var rows = lines.FindAll(line => line.Pieces.Count > 1 && !line.AreTitles);
        if (rows.Count < 4)
            return lines;
        var lefts = rows.SelectMany(line => line.Pieces.Skip(1)).Select(piece => piece.Left).Order().ToList();
        var words = rows.ConvertAll(line => line.Pieces.SelectMany(piece => piece.Words).ToList());
        return lines.ConvertAll(line => line.AreTitles || line.Pieces.TrueForAll(piece => piece.Words.Count < 2) ? line : new Line(line.Base, line.Size, [.. line.Pieces.SelectMany(piece => Cut(piece))]));

        IEnumerable<Piece> Cut(Piece piece)
        {
            var begin = 0;
            for (var i = 1; i < piece.Words.Count; i++)
            {
                if (!Parts(piece.Words, i))
                    continue;
                yield return Piece.Of([.. piece.Words.Skip(begin).Take(i - begin)]);
                begin = i;
            }
            yield return begin == 0 ? piece : Piece.Of([.. piece.Words.Skip(begin)]);
        }

        bool Parts(IReadOnlyList<PageWord> piece, int i)
        {
            var (a, b) = (piece[i - 1], piece[i]);
            var aligned = lefts.Count(left => Math.Abs(left - b.Left) < 1.2) * 10 >= rows.Count * 4;
            if (!aligned && !OfTwoKinds(piece, i))
                return false;
            var place = (a.Right + b.Left) / 2;
            var crossed = words.Count(row => row.Exists(word => word.Left < place && word.Right > place));
            var beside = words.Count(row => row.Exists(word => word.Right <= place) && row.Exists(word => word.Left >= place && word.Left - b.Left < 60));
            return crossed * 20 <= rows.Count && beside * 10 >= rows.Count * 6;
        }
    }

    /// <summary>A number or an amount beside what does not belong to it.</summary>
    private static bool OfTwoKinds(IReadOnlyList<PageWord> words, int i)
    {
        var (a, b) = (words[i - 1].Text, words[i].Text);
        bool IsCurrency(string text) => text.Length <= 3 && Currencies.Find(text) is not null;
        bool IsNumber(string text) => char.IsAsciiDigit(text[0]) || (text.Length > 1 && (Currencies.IsSign(text[0]) || text[0] == '-') && char.IsAsciiDigit(text[1]));
        if (IsCurrency(b) || (IsCurrency(a) && !(i > 1 && IsNumber(words[i - 2].Text))))
            return false;
        var closed = IsCurrency(a) || a is "–" or "-" or "—" || (IsNumber(a) && NumberText.Read(a, null) is { Decimals: 1 or 2 });
        return IsNumber(b) ? closed || char.IsLetter(a[^1]) || a[^1] == ')' || IsNumber(a) : closed && char.IsLetter(b[0]);
    }

    // Columns

    /// <summary>The columns of a part: stretches that pieces of several lines cover, with gaps between that hardly any piece crosses; and what titles stand alone.</summary>
    private static List<(double Left, double Right)> Bands(List<Line> lines)
    {
        var rows = lines.Where(line => line.Pieces.Count > 1 && !line.AreTitles).ToList();
        if (rows.Count < 2 || (rows.Count < 3 && !lines.Exists(line => line.AreTitles)))
            return [];
        var width = (int)Math.Clamp(rows.Max(line => line.Pieces[^1].Right) + 2, 1, 5000);
        var cover = new int[width + 1];
        foreach (var piece in rows.SelectMany(line => line.Pieces))
        {
            for (var x = (int)Math.Max(0, piece.Left); x <= Math.Min(width, piece.Right); x++)
                cover[x]++;
        }
        var few = rows.Count / 25;
        var bands = new List<(double Left, double Right)>();
        var start = -1;
        for (var x = 0; x <= width + 1; x++)
        {
            var covered = x <= width && cover[x] > few;
            if (covered && start < 0)
                start = x;
            else if (!covered && start >= 0)
            {
                bands.Add((start, x));
                start = -1;
            }
        }
        // A column that is empty all down has its title alone.
        if (lines.Find(line => line.AreTitles) is { } head)
        {
            var matched = Match(head.Pieces, bands);
            bands.AddRange(head.Pieces.Where((_, i) => matched[i] < 0).Select(title => (title.Left, title.Right)));
            bands.Sort((a, b) => (a.Left + a.Right).CompareTo(b.Left + b.Right));
        }
        return bands;
    }

    /// <summary>What it costs to leave a title or a column without the other; in points.</summary>
    private const double Alone = 36;

    /// <summary>Each title's column, in the order of both, so that they stand as near as can be; -1 for a title without one.</summary>
    private static int[] Match(List<Piece> titles, List<(double Left, double Right)> bands)
    {
        // As many titles as columns: a title ranged left far over numbers ranged right is theirs, unless it stands over another column.
        if (titles.Count == bands.Count && titles.Select((title, i) => bands.Where((_, j) => j != i).All(band => Overlap(band, title) <= 0)).All(free => free))
            return [.. Enumerable.Range(0, titles.Count)];
        var cost = new double[titles.Count + 1, bands.Count + 1];
        for (var i = 0; i <= titles.Count; i++)
        {
            for (var j = 0; j <= bands.Count; j++)
            {
                cost[i, j] = (i, j) switch
                {
                    (0, _) => j * Alone,
                    (_, 0) => i * Alone,
                    _ => Math.Min(cost[i - 1, j - 1] + Apart(titles[i - 1], bands[j - 1]), Math.Min(cost[i - 1, j], cost[i, j - 1]) + Alone),
                };
            }
        }
        var matched = new int[titles.Count];
        Array.Fill(matched, -1);
        for (int i = titles.Count, j = bands.Count; i > 0 && j > 0;)
        {
            if (cost[i, j] == cost[i - 1, j - 1] + Apart(titles[i - 1], bands[j - 1]))
                (i, j, matched[i - 1]) = (i - 1, j - 1, j - 1);
            else if (cost[i, j] == cost[i - 1, j] + Alone)
                i--;
            else
                j--;
        }
        return matched;
    }

    /// <summary>The gap between a title and a column; nothing where they overlap, and a hair for how far their middles are from one another.</summary>
    private static double Apart(Piece title, (double Left, double Right) band) =>
        Math.Max(0, -Overlap(band, title)) + (Math.Abs(title.Middle - ((band.Left + band.Right) / 2)) / 1000);

    private static double Overlap((double Left, double Right) band, Piece piece) => Math.Min(band.Right, piece.Right) - Math.Max(band.Left, piece.Left);

    private static List<Cell> Cells(Line line, List<(double Left, double Right)> bands)
    {
        if (bands.Count < 2 || (line.Pieces.Count == 1 && bands.Count(band => Overlap(band, line.Pieces[0]) > 0) > 1))
            return [new Cell(0, string.Join(" | ", line.Pieces.Select(piece => piece.Text)))];
        var pieces = line.AreTitles ? Titles(line, bands) : line.Pieces;
        int Nearest(Piece piece) => Enumerable.Range(0, bands.Count).MaxBy(i => Overlap(bands[i], piece) - (Math.Abs(((bands[i].Left + bands[i].Right) / 2) - piece.Middle) / 10000));
        var matched = line.AreTitles ? Match(pieces, bands) : [];
        return [.. pieces
            .Select((piece, i) => (piece, column: line.AreTitles && matched[i] >= 0 ? matched[i] : Nearest(piece)))
            .GroupBy(pair => pair.column)
            .Select(group => new Cell(group.Key, string.Join(" ", group.Select(pair => pair.piece.Text))))
            .OrderBy(cell => cell.Column)];
    }

    /// <summary>Titles that stand close together are cut where a gap between columns runs through them.</summary>
    private static List<Piece> Titles(Line line, List<(double Left, double Right)> bands)
    {
        var titles = new List<Piece>();
        foreach (var piece in line.Pieces)
        {
            var words = piece.Words.ToList();
            for (var i = 0; bands.Count > line.Pieces.Count && i + 1 < bands.Count && words.Count > 1; i++)
            {
                var cut = words.FindIndex(1, word => word.Left >= bands[i].Right - 1 && word.Left >= bands[i + 1].Left - 3 && words[words.IndexOf(word) - 1].Right <= bands[i + 1].Left + 1);
                if (cut <= 0 || words[0].Left > bands[i].Right)
                    continue;
                titles.Add(Piece.Of(words[..cut]));
                words = words[cut..];
            }
            titles.Add(Piece.Of(words));
        }
        return titles;
    }

    // Rows

    /// <summary>The usual distance between the lines of two offers that follow each other at once; 0 where there are too few.</summary>
    private static double Leading(List<Part> parts)
    {
        var gaps = parts.SelectMany(part => part.Lines.Zip(part.Lines.Skip(1))).Where(pair => pair is { First: { IsAnchor: true, AreTitles: false }, Second.IsAnchor: true }).Select(pair => pair.First.Base - pair.Second.Base).Where(gap => gap > 0).Order().ToList();
        return gaps.Count > 2 ? gaps[gaps.Count / 2] : 0;
    }

    private static void AddPart(List<Row> rows, Part part, List<(double Left, double Right)> bands, double leading)
    {
        var lines = part.Lines;
        var next = rows.Count == 0 ? 1 : rows[^1].Number + 1 + rows[^1].FurtherLines.Count;
        for (var i = 0; i < lines.Count;)
        {
            var end = i + 1;
            if (bands.Count < 2 || IsText(lines[i], bands))
            {
                // Sentences go over several lines.
                while (end < lines.Count && (bands.Count < 2 || IsText(lines[end], bands)))
                    end++;
                foreach (var row in PlainText.Read([.. lines[i..end].Select(line => string.Join("   ", line.Pieces.Select(piece => DocumentRows.Clean(piece.Text))))]).Sheet.Rows)
                {
                    var from = i + row.Number - 1;
                    if (row.Content.Any())
                        Add(row with { Number = next }, lines[from..(from + 1 + row.FurtherLines.Count)]);
                }
            }
            else
            {
                while (end < lines.Count && Joins(lines, i, end, bands, leading))
                    end++;
                Add(new Row(next, DocumentRows.Clean(string.Join(' ', lines[i..end].Select(line => line.Text))), Joined([.. lines[i..end].Select(line => Cells(line, bands))])), lines[i..end]);
            }
            i = end;
        }

        void Add(Row row, List<Line> from)
        {
            var cells = row.Cells.Select(cell => cell with { Text = DocumentRows.Clean(cell.Text) }).Where(cell => cell.Text.Length > 0).ToList();
            if (cells.Count == 0)
                return;
            rows.Add(row with { Cells = cells, Page = part.Page, Region = Region(part, from), Quoted = from.Count == 1 && PageMark().IsMatch(row.Text.Trim()) });
            next += 1 + row.FurtherLines.Count;
        }
    }

    private static PageRegion Region(Part part, List<Line> lines)
    {
        double Share(double value, double of) => of > 0 ? Math.Round(Math.Clamp(value / of, 0, 1), 4) : 0;
        var pieces = lines.SelectMany(line => line.Pieces).ToList();
        return new PageRegion(
            part.Page,
            Share(pieces.Min(piece => piece.Left), part.On.Width),
            Share(part.On.Height - lines.Max(line => line.Base + line.Size), part.On.Height),
            Share(pieces.Max(piece => piece.Right), part.On.Width),
            Share(part.On.Height - lines.Min(line => line.Base - (line.Size * 0.25)), part.On.Height));
    }

    /// <summary>A line of a sentence: it stands across columns.</summary>
    private static bool IsText(Line line, List<(double Left, double Right)> bands) => line.Pieces.Count == 1 && !line.AreTitles && bands.Count(band => Overlap(band, line.Pieces[0]) > 0) > 1;

    /// <summary>True when a line goes on with the row that begins some lines before.</summary>
    private static bool Joins(List<Line> lines, int first, int i, List<(double Left, double Right)> bands, double leading)
    {
        var (above, line) = (lines[i - 1], lines[i]);
        var anchored = lines.Skip(first).Take(i - first).Any(one => one.IsAnchor);
        if (above.AreTitles || line.AreTitles || IsText(line, bands) || (anchored && line.IsAnchor) || IsGroup(line) || (i - 1 == first && IsGroup(above)))
            return false;
        var gap = above.Base - line.Base;
        var size = Math.Max(above.Size, line.Size);
        if (gap > size * 2.2)
            return false;
        var usual = leading > 0 ? leading : size * 1.9;
        if (gap < usual * Close)
        {
            // What stands nearer to the line below is its.
            var down = i + 1 < lines.Count ? gap - (lines[i].Base - lines[i + 1].Base) : double.MinValue;
            return line.IsAnchor || down <= gap * 0.2 || (i + 1 < lines.Count && (lines[i + 1].AreTitles || IsText(lines[i + 1], bands)));
        }
        return gap < size * 1.7 && GoesOn(lines, first, i, bands);
    }

    /// <summary>Lines all at one distance: what stands on them says whether they belong together.</summary>
    private static bool GoesOn(List<Line> lines, int first, int i, List<(double Left, double Right)> bands)
    {
        var above = Joined([.. lines[first..i].Select(one => Cells(one, bands))]);
        var below = Cells(lines[i], bands);
        if (below.Count == 1 && above.Find(cell => cell.Column == below[0].Column) is { } upper && !below[0].Text.Any(char.IsAsciiDigit))
        {
            var text = below[0].Text;
            var open = upper.Text.Count(c => c == '(') > upper.Text.Count(c => c == ')');
            return open || text[0] == '(' || (char.IsLower(text[0]) && above.Count > 1) || upper.Text[^1] is '-' or '/' or ',' or '&';
        }
        // The name first, and what it costs beside its common name on the next line.
        return above is [{ } name] && IsName(name.Text) && !lines[first..i].Exists(one => one.IsAnchor) && lines[i].HasMoney
            && below.Find(cell => cell.Column == name.Column) is { } other && !IsName(other.Text) && char.IsLetter(other.Text[0]);
    }

    private static bool IsGroup(Line line) => line.Pieces is [{ } one] && (Group().IsMatch(one.Text) || (one.Words.Count <= 3 && Vocabulary.Of(one.Text.Trim(' ', ':', '-', '–')).Contains(Meaning.Region)));

    private static List<Cell> Joined(List<List<Cell>> lines)
    {
        var cells = new List<Cell>();
        foreach (var cell in lines.SelectMany(line => line))
        {
            var at = cells.FindIndex(one => one.Column == cell.Column);
            if (at >= 0)
                cells[at] = cells[at] with { Text = Join(cells[at].Text, cell.Text) };
            else
                cells.Add(cell);
        }
        cells.Sort((a, b) => a.Column.CompareTo(b.Column));
        return cells;
    }

    /// <summary>A capital or a bracket on the next line begins something new: a common name below the scientific one.</summary>
    private static string Join(string upper, string lower)
    {
        if (upper.Count(c => c == '(') > upper.Count(c => c == ')'))
            return $"{upper} {lower}";
        if (upper[^1] == '-' && char.IsLower(lower[0]) && upper.Length > 2 && char.IsLetter(upper[^2]))
            return $"{upper[..^1]}{lower}";
        return char.IsLower(lower[0]) || char.IsAsciiDigit(lower[0]) ? $"{upper} {lower}" : $"{upper} | {lower}";
    }

    [GeneratedRegex(@"^\p{Lu}\p{Ll}*\.?\s\p{Ll}{3,}")]
    private static partial Regex Binomial();

    [GeneratedRegex(@"^\W*\p{L}+(?:idae|inae|iden|idés|ides|idi)\b\W*(?:\p{L}+\W*){0,5}$")]
    private static partial Regex Group();

    [GeneratedRegex(@"^(?:page|seite|pagina|página|blatt|bladzijde)\s*\d+(?:\s*(?:of|/|von|de|sur|van|di)\s*\d+)?$|^-?\s*\d+\s*(?:/\s*\d+\s*)?-?$", RegexOptions.IgnoreCase)]
    private static partial Regex PageMark();
}
