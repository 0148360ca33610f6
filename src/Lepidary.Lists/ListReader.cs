using Lepidary.Lists.Formats;
using Lepidary.Lists.Reading;

namespace Lepidary.Lists;

/// <summary>Reads what a supplier sends.</summary>
public static class ListReader
{
    /// <summary>Reads a list.</summary>
    /// <param name="content">The file as it came, at most 20 MB.</param>
    /// <param name="fileName">For messages, and for the day when the list itself does not say it. The format is told by the content.</param>
    /// <param name="options">What is known beside the file.</param>
    /// <returns>The list with every line accounted for, or why the file is no list that can be read.</returns>
    public static Checked<SupplierList> Read(ReadOnlyMemory<byte> content, string fileName, ReadOptions options)
    {
        ArgumentNullException.ThrowIfNull(fileName);
        ArgumentNullException.ThrowIfNull(options);
        var source = FormatRecogniser.Read(content, fileName);
        return source.IsGood
            ? Assembler.Assemble(source.Value, fileName, options)
            : source.Problems.ToArray();
    }
}
