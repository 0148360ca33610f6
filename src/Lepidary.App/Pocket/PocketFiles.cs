using System.Collections.Frozen;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Lepidary.App.Host;

namespace Lepidary.App.Pocket;

/// <summary>
/// The pocket book's own files, as <c>src/offline</c> compiles them. They stand under plain addresses and are asked for anew each
/// time (with a tag, so that nothing is sent twice); the phone's service worker keeps them as one set, named by
/// <see cref="Version"/>, so that a phone never runs half of one version and half of the next.
/// </summary>
internal static partial class PocketFiles
{
    private static readonly FrozenDictionary<string, PocketFile> _files = Load();

    /// <summary>Twelve digits that change when any file does.</summary>
    public static string Version { get; } = Hash([.. _files.OrderBy(file => file.Key, StringComparer.Ordinal).SelectMany(file => file.Value.Bytes)]);

    /// <summary>Size of each file that the phone fetches, bytes before compression.</summary>
    public static IReadOnlyDictionary<string, int> Sizes => _files.ToDictionary(file => file.Key, file => file.Value.Bytes.Length);

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/pocket/{name?}", (string? name, HttpContext http) =>
        {
            if (name is null && !http.Request.Path.Value!.EndsWith('/'))
            {
                return Results.LocalRedirect("/pocket/");
            }

            var file = name == "files.js" ? Listed() : _files.GetValueOrDefault(name ?? "index.html");
            if (file is null)
            {
                return Results.NotFound();
            }

            http.Response.Headers.CacheControl = "no-cache";
            return Results.Bytes(file.Bytes, file.Type, entityTag: new($"\"{Hash(file.Bytes)}\""));
        });
    }

    /// <summary>What the service worker keeps: a module of its own, so that a new version is a new text.</summary>
    private static PocketFile Listed()
    {
        string[] addresses = ["/pocket/", .. _files.Keys.Where(name => name != "index.html").Order(StringComparer.Ordinal).Select(name => "/pocket/" + name), "/pocket/files.js", .. Letters.Select(OwnFiles.AddressOf)];
        return new(Encoding.UTF8.GetBytes($"export const version = {JsonSerializer.Serialize(Version)};\nexport const files = {JsonSerializer.Serialize(addresses)};\n"), "text/javascript");
    }

    private static IReadOnlyList<string> Letters { get; } = ["type/serif.woff2", "type/serif-italic.woff2", "type/serif-bold.woff2"];

    private static FrozenDictionary<string, PocketFile> Load()
    {
        var assembly = Assembly.GetExecutingAssembly();
        return assembly.GetManifestResourceNames().Where(name => name.StartsWith("pocket/", StringComparison.Ordinal)).ToFrozenDictionary(name => name["pocket/".Length..], name =>
        {
            using var stream = assembly.GetManifestResourceStream(name)!;
            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            var type = Path.GetExtension(name) switch
            {
                ".html" => "text/html; charset=utf-8",
                ".css" => "text/css",
                ".js" => "text/javascript",
                ".png" => "image/png",
                ".svg" => "image/svg+xml",
                ".webmanifest" => "application/manifest+json",
                var other => throw new InvalidOperationException($"A pocket file with {other}."),
            };
            return new PocketFile(type == "text/css" ? Encoding.UTF8.GetBytes(PlainAddress().Replace(Encoding.UTF8.GetString(bytes), match => $"url({OwnFiles.AddressOf(match.Groups[1].Value)})")) : bytes, type);
        }, StringComparer.Ordinal);
    }

    private static string Hash(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes))[..12];

    [GeneratedRegex(@"url\(/assets/([^)]+)\)")]
    private static partial Regex PlainAddress();

    private sealed record PocketFile(byte[] Bytes, string Type);
}
