using Lepidary.Lists;

namespace Lepidary.App.Lists;

/// <summary>Reads a list from a file.</summary>
internal static class ListFile
{
    public static Checked<SupplierList> Read(string path, ReadOptions options)
    {
        try
        {
            var size = new FileInfo(path).Length;
            return size > Host.Uploads.MaxBytes
                ? new Problem(path, $"{size / 1_000_000} MB", $"a list of at most {Host.Uploads.MaxBytes / 1_000_000} MB")
                : ListReader.Read(File.ReadAllBytes(path), Path.GetFileName(path), options);
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            return new Problem(path, wrong.Message, "a list that can be read");
        }
    }
}
