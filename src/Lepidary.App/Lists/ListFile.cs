using Lepidary.Lists;

namespace Lepidary.App.Lists;

/// <summary>Reads a list from a file.</summary>
internal static class ListFile
{
    public static Checked<SupplierList> Read(string path, ReadOptions options)
    {
        var content = Content(path);
        return content.IsGood ? ListReader.Read(content.Value, Path.GetFileName(path), options) : content.Problems.ToArray();
    }

    /// <summary>Opens a mailbox, which can be longer than any list; null for another file, or one that can't be opened.</summary>
    public static FileStream? Mailbox(string path)
    {
        try
        {
            var stream = File.OpenRead(path);
            var start = new byte[200];
            if (Lepidary.Lists.Mailbox.Is(start.AsSpan(0, stream.ReadAtLeast(start, start.Length, throwOnEndOfStream: false))))
            {
                stream.Position = 0;
                return stream;
            }

            stream.Dispose();
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // What is wrong with it is said by whoever reads it whole.
        }

        return null;
    }

    public static Checked<byte[]> Content(string path)
    {
        try
        {
            var size = new FileInfo(path).Length;
            return size > Host.Uploads.MaxBytes
                ? new Problem(path, $"{size / 1_000_000} MB", $"a list of at most {Host.Uploads.MaxBytes / 1_000_000} MB")
                : File.ReadAllBytes(path);
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            return new Problem(path, wrong.Message, "a list that can be read");
        }
    }
}
