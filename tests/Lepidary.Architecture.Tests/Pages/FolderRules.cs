using System.Text.RegularExpressions;

namespace Lepidary.Architecture.Pages;

/// <summary>
/// A feature of App is one folder: its pages, its commands and its use cases. Whoever changes the round opens <c>Rounds/</c>
/// and nothing else.
/// </summary>
internal static partial class FolderRules
{
    /// <summary>Folders named after a kind of file: with them, one change walks through all of them.</summary>
    private static readonly string[] _layers =
        ["Pages", "Components", "Commands", "Services", "Models", "ViewModels", "Controllers", "Helpers", "Utils", "Handlers", "Data"];

    /// <summary>Rules of place and name, over the files of App.</summary>
    /// <param name="files">Path within <c>src/Lepidary.App</c>, with <c>/</c>, and text.</param>
    public static IEnumerable<Finding> Misplaced(IReadOnlyCollection<SourceFile> files)
    {
        foreach (var file in files)
        {
            var folders = file.Path.Split('/')[..^1];
            if (folders.FirstOrDefault(_layers.Contains) is { } layer)
            {
                yield return new Finding(file.Path, $"lies in a folder of a kind of file ({layer}), not of a feature");
            }

            if (IsPage(file) && folders.Length == 0)
            {
                yield return new Finding(file.Path, "a page lies in the folder of its feature");
            }

            var home = string.Join('.', ["Lepidary.App", .. folders]);
            if (Namespace().Match(file.Text) is { Success: true } declared && declared.Groups[1].Value != home
                && file.Path.EndsWith(".cs", StringComparison.Ordinal))
            {
                yield return new Finding(file.Path, $"has the namespace {declared.Groups[1].Value}; its folder says {home}");
            }
        }

        foreach (var split in files.Select(Feature).OfType<(string Stem, string Folder)>().GroupBy(f => f.Stem))
        {
            var folders = split.Select(f => f.Folder).Distinct().Order(StringComparer.Ordinal).ToList();
            if (folders.Count > 1)
            {
                yield return new Finding(split.Key, $"one feature, {folders.Count} folders: {string.Join(", ", folders)}");
            }
        }
    }

    private static bool IsPage(SourceFile file) =>
        file.Path.EndsWith(".razor", StringComparison.Ordinal) && PageDirective().IsMatch(file.Text);

    /// <summary><c>Rounds/RoundPage.razor</c> and <c>Rounds/RoundCommands.cs</c> both belong to the feature Round.</summary>
    private static (string Stem, string Folder)? Feature(SourceFile file) =>
        FeatureFile().Match(file.Path) is { Success: true } match ? (match.Groups["stem"].Value, match.Groups["folder"].Value) : null;

    [GeneratedRegex(@"^namespace\s+([\w.]+)", RegexOptions.Multiline)]
    private static partial Regex Namespace();

    [GeneratedRegex(@"^@page\s", RegexOptions.Multiline)]
    private static partial Regex PageDirective();

    [GeneratedRegex(@"^(?<folder>.*?)/?(?<stem>[A-Z]\w*?)(Page\.razor|Page\.razor\.cs|Commands\.cs)$")]
    private static partial Regex FeatureFile();
}
