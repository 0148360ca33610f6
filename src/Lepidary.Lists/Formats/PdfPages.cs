using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Exceptions;

namespace Lepidary.Lists.Formats;

/// <summary>A PDF with a text layer. It knows words and where they stand; <see cref="PdfLayout"/> makes rows of them.</summary>
internal static class PdfPages
{
    private const int MostPages = 60;

    /// <summary>Fewer letters than this on a page, and the page is a picture.</summary>
    private const int FewestLetters = 15;

    /// <summary>Sixty pages are read in seconds; what takes longer does not end.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(45);

    private sealed record Outcome(Checked<Source> Read);

    public static Checked<Source> Read(ReadOnlyMemory<byte> content, string fileName, CancellationToken cancellation) =>
        OwnThread.Run(stop => new Outcome(ReadHere(content, fileName, stop)), Longest, cancellation)?.Read
        ?? new Problem(fileName, $"a PDF that is not read after {Longest.TotalSeconds:0} seconds", "a PDF of a few pages with the list on them, or the list as text: copy it out of the PDF and paste it");

    private static Checked<Source> ReadHere(ReadOnlyMemory<byte> content, string fileName, CancellationToken cancellation)
    {
        var filters = new PdfFilters(cancellation);
        try
        {
            using var document = PdfDocument.Open(content.ToArray(), new ParsingOptions { UseLenientParsing = true, SkipMissingFonts = true, FilterProvider = filters });
            if (document.NumberOfPages > MostPages)
                return new Problem(fileName, $"a PDF of {document.NumberOfPages} pages", $"a list of at most {MostPages} pages");
            var pages = new List<PageWords>();
            for (var number = 1; number <= document.NumberOfPages; number++)
            {
                cancellation.ThrowIfCancellationRequested();
                pages.Add(Words(document.GetPage(number)));
            }
            if (filters.Exceeded)
                return Endless(fileName);
            if (pages.Sum(page => page.Words.Sum(word => word.Text.Count(char.IsLetter))) < FewestLetters * Math.Max(1, pages.Count))
                return new Problem(fileName, "a scanned PDF: pictures of pages without text", "the list as text or a workbook: ask the supplier for it, or type the offers");
            return new Source("PDF", [new Sheet(null, false, PdfLayout.Rows(pages))]);
        }
        catch (TooLargeException exception)
        {
            return new Problem(fileName, exception.Message, "a PDF of a few pages with the list on them");
        }
        catch (Exception exception) when (filters.Exceeded && exception is not OperationCanceledException)
        {
            return Endless(fileName);
        }
        catch (PdfDocumentEncryptedException)
        {
            return new Problem(fileName, "a PDF locked with a password", "a PDF without a password");
        }
        catch (Exception exception) when (exception is PdfDocumentFormatException or IOException or InvalidDataException or ArgumentException or InvalidOperationException
            or NotSupportedException or FormatException or IndexOutOfRangeException or NullReferenceException or OverflowException or InvalidCastException or KeyNotFoundException)
        {
            // The library meets damaged files with whatever exception the damage leads to; to the keeper they are all one thing.
            return new Problem(fileName, "a damaged PDF", "a whole PDF: fetch the file again");
        }
    }

    private static Problem Endless(string fileName) => new(fileName, "a PDF that unpacks to far more than it holds", "a PDF of a few pages with the list on them");

    /// <summary>More letters on one page are no page.</summary>
    private const int MostLetters = 60_000;

    private static PageWords Words(Page page)
    {
        if (page.Letters.Count > MostLetters)
            throw new TooLargeException($"a PDF with a page of more than {MostLetters} letters");
        var words = page.GetWords().Where(word => word.Text.Trim().Length > 0).SelectMany(Parts);
        return new PageWords(page.Width, page.Height, [.. words]);
    }

    /// <summary>A word as it stands; one with leading dots in it is cut there: "memnon.......2,40".</summary>
    private static IEnumerable<PageWord> Parts(Word word)
    {
        var letters = word.Letters;
        if (letters.Count == 0)
            return [new PageWord(word.BoundingBox.Left, word.BoundingBox.Right, word.BoundingBox.Bottom, word.BoundingBox.Height, word.Text)];
        if (!word.Text.Contains("...", StringComparison.Ordinal) && !word.Text.Contains("___", StringComparison.Ordinal) && !word.Text.Contains("····", StringComparison.Ordinal))
            return [Of(word.BoundingBox.Left, word.BoundingBox.Right, letters, word.Text)];
        var parts = new List<PageWord>();
        var begin = 0;
        for (var i = 0; i <= letters.Count; i++)
        {
            if (i < letters.Count && !IsLeader(i))
                continue;
            if (i > begin)
            {
                var part = letters.Skip(begin).Take(i - begin).ToList();
                if (string.Concat(part.Select(letter => letter.Value)).Trim() is { Length: > 0 } text)
                    parts.Add(Of(part[0].BoundingBox.Left, part[^1].BoundingBox.Right, part, text));
            }
            begin = i + 1;
        }
        return parts;

        bool IsLeader(int i) => letters[i].Value is "." or "_" or "·" && ((i > 0 && letters[i - 1].Value == letters[i].Value) || (i + 1 < letters.Count && letters[i + 1].Value == letters[i].Value));

        static PageWord Of(double left, double right, IReadOnlyList<Letter> letters, string text) => new(left, right, letters[0].StartBaseLine.Y, letters[0].PointSize, text);
    }
}
