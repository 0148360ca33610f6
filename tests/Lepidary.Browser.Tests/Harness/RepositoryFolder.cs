namespace Lepidary.Browser.Harness;

/// <summary>Folders of the repository that the tests run in.</summary>
internal static class RepositoryFolder
{
    private static readonly string _root = FindRoot();

    /// <summary>A folder below the root.</summary>
    public static string Of(params string[] names) => Path.Combine([_root, .. names]);

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Lepidary.slnx")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("the tests do not lie in the repository");
        }

        return folder.FullName;
    }
}
