using System.Reflection;

namespace Lepidary.App.Demo;

/// <summary>The invented scenarios, carried inside the program.</summary>
internal static class DemoFiles
{
    public const string Public = "public-glasshouse";
    public const string Private = "private-greenhouse";

    public static byte[] Read(string scenario, string path)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"demo/{scenario}/{path}")
            ?? throw new InvalidOperationException($"The demo {scenario} has no {path}.");
        var content = new byte[stream.Length];
        stream.ReadExactly(content);
        return content;
    }

    /// <summary>Paths of a scenario's files in a folder, not of folders within it.</summary>
    public static IReadOnlyList<string> In(string scenario, string folder)
    {
        var prefix = $"demo/{scenario}/{folder}/";
        return [.. Assembly.GetExecutingAssembly().GetManifestResourceNames().Select(name => name.Replace('\\', '/'))
            .Where(name => name.StartsWith(prefix, StringComparison.Ordinal) && !name[prefix.Length..].Contains('/', StringComparison.Ordinal))
            .Select(name => name[$"demo/{scenario}/".Length..]).Order(StringComparer.Ordinal)];
    }
}
