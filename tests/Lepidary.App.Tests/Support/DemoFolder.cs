namespace Lepidary.App.Tests.Support;

/// <summary>The demo's files, where they lie in the tree.</summary>
internal static class DemoFolder
{
    private static readonly string Root = Find();

    public static IReadOnlyList<(string Supplier, string File)> ThisWeek { get; } =
    [
        ("Quillfeather Pupae", File("public-glasshouse/lists/quillfeather-pupae.csv")),
        ("Brackenfold Lepidoptera", File("public-glasshouse/lists/brackenfold-lepidoptera.xlsx")),
        ("Kessom Farm", File("public-glasshouse/lists/kessom-farm.txt")),
    ];

    public static string File(string path) => Path.Combine(Root, path);

    private static string Find()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
        {
            if (Directory.Exists(Path.Combine(folder, "demo", "public-glasshouse")))
            {
                return Path.Combine(folder, "demo");
            }
        }

        throw new DirectoryNotFoundException("The demo is not above the tests.");
    }
}
