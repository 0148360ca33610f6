using Lepidary.Lists.Formats;
using Xunit;

namespace Lepidary.Lists.Tests.Formats;

/// <summary>Rows and columns out of words that stand somewhere.</summary>
public sealed class PdfLayoutTests
{
    private const double Size = 10;

    /// <summary>Words of a line set from a place on, each letter half as wide as high.</summary>
    private static IEnumerable<PageWord> At(double left, double y, string text)
    {
        foreach (var word in text.Split(' '))
        {
            yield return new PageWord(left, left + (word.Length * Size / 2), y, Size, word);
            left += (word.Length + 0.6) * Size / 2;
        }
    }

    private static IEnumerable<PageWord> Ending(double right, double y, string text)
    {
        var words = At(0, y, text).ToList();
        return words.Select(word => word with { Left = word.Left + right - words[^1].Right, Right = word.Right + right - words[^1].Right });
    }

    private static List<string> Rows(params IEnumerable<PageWord>[] words) => Pages(words);

    private static List<string> Pages(params IEnumerable<PageWord>[][] pages) =>
        PdfLayout.Rows([.. pages.Select(words => new PageWords(595, 842, [.. words.SelectMany(word => word)]))]).ConvertAll(row => string.Join(" ; ", row.Cells.Select(cell => $"{cell.Column}:{cell.Text}")));

    [Fact]
    public void Rows_priceRangedRightCloseToStockRangedLeft_areTwoColumns()
    {
        var rows = Rows([
            At(40, 800, "Art"), At(230, 800, "Preis"), At(350, 800, "ab 20"), At(470, 800, "Vorrat"),
            .. Enumerable.Range(0, 6).SelectMany(i => (IEnumerable<PageWord>[])[At(40, 780 - (18 * i), $"Papilio {"memnon polytes lowii nireus ulysses phorcas".Split(' ')[i]}"), Ending(346, 780 - (18 * i), $"2,{i}5 €"), Ending(466, 780 - (18 * i), $"2,{i}0 €"), At(470, 780 - (18 * i), $"{i + 1}0")]),
        ]);

        Assert.Equal("0:Art ; 1:Preis ; 2:ab 20 ; 3:Vorrat", rows[0]);
        Assert.Equal("0:Papilio memnon ; 1:2,05 € ; 2:2,00 € ; 3:10", rows[1]);
        Assert.Equal(7, rows.Count);
    }

    [Fact]
    public void Rows_titlesTwice_areReadColumnAfterColumn()
    {
        IEnumerable<PageWord>[] Line(double y, string left, string right) => [At(40, y, left), At(160, y, "2.40"), At(300, y, right), At(420, y, "2.60")];

        var rows = Rows([At(40, 800, "Species"), At(160, 800, "Each"), At(300, 800, "Species"), At(420, 800, "Each"), .. Line(780, "Papilio memnon", "Idea leuconoe"), .. Line(762, "Papilio nireus", "Greta oto"), .. Line(744, "Morpho achilles", "Dryas iulia"), At(40, 710, "Carriage 12.00 per box")]);

        Assert.Equal(
            ["0:Species ; 1:Each", "0:Papilio memnon ; 1:2.40", "0:Papilio nireus ; 1:2.40", "0:Morpho achilles ; 1:2.40", "0:Species ; 1:Each", "0:Idea leuconoe ; 1:2.60", "0:Greta oto ; 1:2.60", "0:Dryas iulia ; 1:2.60", "0:Carriage 12.00 per box"],
            rows);
    }

    [Fact]
    public void Rows_nameOverTwoLinesWithThePriceBetween_areOneRow()
    {
        var words = new List<IEnumerable<PageWord>> { At(40, 800, "Name"), At(250, 800, "Price"), At(350, 800, "Stock") };
        (string Name, string Common)[] species = [("Papilio memnon", "Great Mormon"), ("Idea leuconoe", "Paper Kite"), ("Greta oto", "Glasswing"), ("Dryas iulia", "Julia")];
        for (var i = 0; i < species.Length; i++)
            words.AddRange([At(40, 780 - (30 * i), species[i].Name), At(250, 774 - (30 * i), "2.40"), At(350, 774 - (30 * i), "30"), At(40, 768 - (30 * i), species[i].Common)]);

        var rows = Rows([.. words]);

        Assert.Equal(["0:Name ; 1:Price ; 2:Stock", "0:Papilio memnon | Great Mormon ; 1:2.40 ; 2:30", "0:Idea leuconoe | Paper Kite ; 1:2.40 ; 2:30", "0:Greta oto | Glasswing ; 1:2.40 ; 2:30", "0:Dryas iulia | Julia ; 1:2.40 ; 2:30"], rows);
    }

    [Fact]
    public void Rows_nameWrappedWithAllLinesAtOneDistance_isJoined()
    {
        var rows = Rows(
            At(40, 800, "Species"), At(150, 800, "Price"), At(250, 800, "Stock"),
            At(40, 786, "Graphium"), At(150, 786, "2.20"), At(250, 786, "25"),
            At(40, 772, "agamemnon"),
            At(40, 758, "Idea leuconoe"), At(150, 758, "2.60"), At(250, 758, "40"),
            At(40, 744, "(Paper Kite)"),
            At(40, 730, "Dryas iulia"), At(150, 730, "1.80"), At(250, 730, "70"));

        Assert.Equal(["0:Species ; 1:Price ; 2:Stock", "0:Graphium agamemnon ; 1:2.20 ; 2:25", "0:Idea leuconoe | (Paper Kite) ; 1:2.60 ; 2:40", "0:Dryas iulia ; 1:1.80 ; 2:70"], rows);
    }

    [Fact]
    public void Rows_pageThatLeavesAColumnEmpty_keepsTheColumnsOfTheOthers()
    {
        static IEnumerable<PageWord>[] Line(double y, string name, bool less) => [At(40, y, name), At(250, y, "2.40"), .. less ? (IEnumerable<PageWord>[])[At(350, y, "2.20")] : [], At(450, y, "30")];
        IEnumerable<PageWord>[] first = [At(40, 800, "Species"), At(250, 800, "Price"), At(350, 800, "10+"), At(450, 800, "Stock"), .. Line(780, "Papilio memnon", true), .. Line(762, "Papilio nireus", true), .. Line(744, "Idea leuconoe", true)];
        IEnumerable<PageWord>[] second = [.. Line(800, "Greta oto", false), .. Line(782, "Dryas iulia", false), .. Line(764, "Danaus chrysippus", false)];

        var rows = Pages(first, second);

        Assert.Equal("0:Greta oto ; 1:2.40 ; 3:30", rows[4]);
    }

    [Fact]
    public void Rows_sentenceOverSeveralLines_isOneRow()
    {
        var rows = PdfLayout.Rows([new PageWords(595, 842, [
            .. At(40, 800, "This week we have about thirty Papilio memnon at 2.40, a dozen"),
            .. At(40, 786, "palinurus at 2.70 and twenty rumanzovia."),
        ])]);

        Assert.Single(rows);
        Assert.Equal(1, rows[0].Region!.Page);
        Assert.InRange(rows[0].Region!.Bottom - rows[0].Region!.Top, 0.02, 0.05);
    }
}
