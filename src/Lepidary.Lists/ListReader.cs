using Lepidary.Lists.Formats;
using Lepidary.Lists.Reading;

namespace Lepidary.Lists;

/// <summary>Reads what a supplier sends.</summary>
public static class ListReader
{
    /// <summary>A list is read in less than a second, the longest one allowed in half a minute; what takes longer was made to.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(2);

    /// <summary>Reads a list.</summary>
    /// <param name="content">The file as it came, at most 20 MB.</param>
    /// <param name="fileName">For messages, and for the day when the list itself does not say it. The format is told by the content.</param>
    /// <param name="options">What is known beside the file.</param>
    /// <param name="cancellation">Ends the reading; it then throws.</param>
    /// <returns>The list with every line accounted for, or why the file is no list that can be read.</returns>
    public static Checked<SupplierList> Read(ReadOnlyMemory<byte> content, string fileName, ReadOptions options, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(fileName);
        ArgumentNullException.ThrowIfNull(options);
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        limit.CancelAfter(Longest);
        try
        {
            var source = FormatRecogniser.Read(content, fileName, cancellation: limit.Token);
            return source.IsGood
                ? ToldLine.Apply(Assembler.Assemble(source.Value, fileName, options, limit.Token), options.Layout.Lines)
                : source.Problems.ToArray();
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            return new Problem(fileName, $"a file that takes longer than {Longest.TotalMinutes:0} minutes to read", "a list: send only the part with the offers");
        }
    }
}
