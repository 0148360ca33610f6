namespace Lepidary.Lists.Tests.Corpus;

/// <summary>One list of the corpus: the file as the supplier sent it and its truth.</summary>
public sealed record CorpusEntry(string Name, string File, TruthList Truth)
{
    /// <summary>The format by the file's ending, for the table of scores.</summary>
    public string Format => Path.GetExtension(File).TrimStart('.');
}

/// <summary>Reads a folder of lists with their truths.</summary>
public static class CorpusFolder
{
    /// <summary>Name of the environment variable with one more folder, for lists that the reader's author has not seen.</summary>
    public const string Variable = "LEPIDARY_CORPUS";

    /// <summary>The lists kept beside these tests.</summary>
    public static string Visible => Path.Combine(AppContext.BaseDirectory, "Files", "corpus");

    /// <summary>The lists that were kept back while the readers were written.</summary>
    public static string HeldOut => Path.Combine(AppContext.BaseDirectory, "Files", "heldout");

    /// <summary>The lists of another hand that were kept back after those had been looked at.</summary>
    public static string HeldOutSecond => Path.Combine(AppContext.BaseDirectory, "Files", "heldout-second");

    /// <summary>A third set, opened later still.</summary>
    public static string HeldOutThird => Path.Combine(AppContext.BaseDirectory, "Files", "heldout-third");

    /// <summary>A fourth set, opened after the third.</summary>
    public static string HeldOutFourth => Path.Combine(AppContext.BaseDirectory, "Files", "heldout-fourth");

    /// <summary>A fifth set, opened after the third.</summary>
    public static string HeldOutFifth => Path.Combine(AppContext.BaseDirectory, "Files", "heldout-fifth");

    /// <summary>A sixth set, opened after the third.</summary>
    public static string HeldOutSixth => Path.Combine(AppContext.BaseDirectory, "Files", "heldout-sixth");

    /// <summary>Every folder with a truth file, in the order of their names.</summary>
    public static IReadOnlyList<CorpusEntry> Read(string folder) =>
    [
        .. Directory.EnumerateFiles(folder, "truth.json", SearchOption.AllDirectories)
            .Order(StringComparer.Ordinal)
            .Select(Entry),
    ];

    private static CorpusEntry Entry(string truthFile)
    {
        var folder = Path.GetDirectoryName(truthFile)!;
        var list = Directory.EnumerateFiles(folder, "list.*").Single();
        return new CorpusEntry(Path.GetFileName(folder), list, TruthList.Parse(File.ReadAllText(truthFile)));
    }
}
