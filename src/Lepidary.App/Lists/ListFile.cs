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
