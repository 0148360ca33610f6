using System.Text.RegularExpressions;

namespace Lepidary.Architecture.Repository;

/// <summary>What must hold of the repository's files themselves, so that they build elsewhere and their prose stays true.</summary>
internal static partial class RepositoryRules
{
    // In pieces, so that this file does not break its own rule.
    private static readonly string[] _registries =
        ["nuget" + ".org", "npmjs" + ".org", "npmjs" + ".com", "pypi" + ".org", "crates" + ".io", "deb.debian" + ".org"];

    /// <summary>Registries named in the repository: where packages come from is each machine's own setting.</summary>
    public static IEnumerable<Finding> NamingARegistry(IEnumerable<SourceFile> files) =>
        from place in Lines(files)
        from host in _registries
        where place.Text.Contains(host, StringComparison.OrdinalIgnoreCase)
        select new Finding(place.Where, $"names the registry {host}; each machine has its own setting for that");

    /// <summary>Paths that exist on one machine only.</summary>
    public static IEnumerable<Finding> NamingAMachine(IEnumerable<SourceFile> files) =>
        from place in Lines(files)
        let path = MachinePath().Match(place.Text)
        where path.Success
        select new Finding(place.Where, $"names {path.Value}, which is a folder of one machine");

    /// <summary>Projects without a lock file beside them: their packages could change without a commit.</summary>
    /// <param name="paths">Paths of all files of the repository.</param>
    public static IEnumerable<Finding> Unlocked(IReadOnlyCollection<string> paths) =>
        from project in paths
        where project.EndsWith(".csproj", StringComparison.Ordinal)
        where !paths.Contains(Beside(project, "packages.lock.json"))
        select new Finding(project, "has no packages.lock.json beside it");

    /// <summary>Projects that the solution leaves out: the gate would never build them.</summary>
    public static IEnumerable<Finding> OutsideTheSolution(IEnumerable<string> paths, string solution) =>
        from project in paths
        where project.EndsWith(".csproj", StringComparison.Ordinal) && !solution.Contains($"\"{project}\"", StringComparison.Ordinal)
        select new Finding(project, "is not in the solution");

    /// <summary>Usings out of their order in C# files: System first, then by name, part by part. The formatter of single files does not look at it.</summary>
    public static IEnumerable<Finding> UsingsOutOfOrder(IEnumerable<SourceFile> files) =>
        from file in files
        where file.Path.EndsWith(".cs", StringComparison.Ordinal) && !file.Path.Contains("/Migrations/", StringComparison.Ordinal)
        let names = Using().Matches(file.Text).Select(match => match.Groups["name"].Value).ToList()
        from pair in names.Zip(names.Skip(1))
        where string.CompareOrdinal(OrderOf(pair.First), OrderOf(pair.Second)) > 0
        select new Finding(file.Path, $"uses {pair.First} before {pair.Second}");

    /// <summary>A text that sorts as usings do: a part ends before any letter, and System is before all.</summary>
    private static string OrderOf(string name) =>
        (name == "System" || name.StartsWith("System.", StringComparison.Ordinal) ? "0" : "1") + name.ToUpperInvariant().Replace('.', ' ');

    /// <summary>Links of a page of prose to files of the repository that are not there.</summary>
    /// <param name="pages">Markdown files, with their paths from the root.</param>
    /// <param name="exists">Whether a path from the root is a file or folder.</param>
    public static IEnumerable<Finding> BrokenLinks(IEnumerable<SourceFile> pages, Func<string, bool> exists) =>
        from page in pages
        where page.Path.EndsWith(".md", StringComparison.Ordinal)
        from Match link in Link().Matches(Fence().Replace(page.Text, ""))
        let target = link.Groups["to"].Value.Split('#')[0]
        where target.Length > 0 && !target.Contains(':')
        where !exists(Resolve(page.Path, Uri.UnescapeDataString(target)))
        select new Finding(page.Path, $"links to {target}, which is not there");

    /// <summary>
    /// The commands shown in blocks of a page of prose, one a line: <c>./run lists read this-week.csv</c> gives
    /// <c>lists read</c>. What follows the first word that is not a plain command word (an option, a file, a value) is left out.
    /// </summary>
    public static IEnumerable<(string Page, string Script, string Command)> Commands(IEnumerable<SourceFile> pages) =>
        from page in pages
        where page.Path.EndsWith(".md", StringComparison.Ordinal)
        from Match block in Fence().Matches(page.Text)
        from line in block.Groups["body"].Value.Split('\n')
        let command = CommandLine().Match(line)
        where command.Success
        select (page.Path, command.Groups["script"].Value, command.Groups["words"].Value.Trim());

    private static IEnumerable<(string Where, string Text)> Lines(IEnumerable<SourceFile> files) =>
        files.SelectMany(file => file.Text.Split('\n').Select((line, index) => ($"{file.Path}:{index + 1}", line)));

    private static string Beside(string path, string name) => path[..(path.LastIndexOf('/') + 1)] + name;

    private static string Resolve(string page, string target)
    {
        var whole = target.StartsWith('/') ? target : "/" + Beside(page, target);
        return Path.GetFullPath(whole)[1..];
    }

    [GeneratedRegex(@"^using (?<name>[A-Za-z_][\w.]*);", RegexOptions.Multiline)]
    private static partial Regex Using();

    [GeneratedRegex(@"(?<![\w.~-])/(work|root|home|Users|opt/nuget|tmp/bash)/[\w.-]+")]
    private static partial Regex MachinePath();

    [GeneratedRegex(@"\]\((?<to>[^)\s]+)(\s+""[^""]*"")?\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"^```[^\n]*\n(?<body>.*?)^```", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Fence();

    [GeneratedRegex(@"^\s*(\$\s+)?(?<script>\./run|\./test|lepidary)(?<words>(\s+[a-z][a-z-]*(?=\s|$))*)")]
    private static partial Regex CommandLine();
}
