namespace Lepidary.Architecture;

/// <summary>A text file of the repository.</summary>
/// <param name="Path">Path from the folder that a rule is about, with <c>/</c>.</param>
/// <param name="Text">Its whole text.</param>
internal sealed record SourceFile(string Path, string Text)
{
    private static readonly string[] _notOurs = [".git", "artifacts", "bin", "obj", "node_modules", "book"];

    private static readonly HashSet<string> _binary = [".png", ".xlsx", ".xls", ".pdf", ".woff2", ".ttf", ".db", ".ico", ".docx"];

    /// <summary>The repository's root folder: the one above the tests that holds the solution.</summary>
    public static DirectoryInfo Root { get; } = FindRoot();

    /// <summary>All text files below a folder of the repository, in the order of their paths; built things left out.</summary>
    /// <param name="folder">Path from the root; empty for the whole repository.</param>
    public static IReadOnlyList<SourceFile> Below(string folder)
    {
        var top = new DirectoryInfo(System.IO.Path.Combine(Root.FullName, folder));
        return [.. Walk(top).OrderBy(file => file.FullName, StringComparer.Ordinal)
            .Select(file => new SourceFile(
                System.IO.Path.GetRelativePath(top.FullName, file.FullName).Replace('\\', '/'), File.ReadAllText(file.FullName)))];
    }

    private static IEnumerable<FileInfo> Walk(DirectoryInfo folder) =>
        folder.EnumerateFiles().Where(file => !_binary.Contains(file.Extension) && file.Name != ".git")
            .Concat(folder.EnumerateDirectories().Where(inner => !_notOurs.Contains(inner.Name)).SelectMany(Walk));

    private static DirectoryInfo FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(System.IO.Path.Combine(folder.FullName, "Lepidary.slnx")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("the tests do not lie in the repository");
        }

        return folder;
    }
}
