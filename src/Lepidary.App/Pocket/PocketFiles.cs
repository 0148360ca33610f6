using System.Collections.Frozen;
using System.Globalization;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Lepidary.App.Host;
using Lepidary.App.Rounds;

namespace Lepidary.App.Pocket;

/// <summary>
/// The pocket book's own files, as <c>src/offline</c> compiles them. They stand under plain addresses and are asked for anew each
/// time (with a tag, so that nothing is sent twice); the phone's service worker keeps them as one set, named by
/// <see cref="Version"/>, so that a phone never runs half of one version and half of the next.
/// </summary>
internal static partial class PocketFiles
{
    /// <summary>The modules of the page, each after those that it imports.</summary>
    private static readonly IReadOnlyList<string> _page = ["ids", "clock", "facts", "box", "outbox", "round", "walk", "store", "send", "paper", "pocket", "screens", "boxScreens", "outboxScreens", "flying", "app"];

    /// <summary>The modules of the worker.</summary>
    private static readonly IReadOnlyList<string> _worker = ["ids", "clock", "facts", "outbox", "round", "store", "send", "worker"];

    private static readonly FrozenDictionary<string, PocketFile> _files = Load();

    /// <summary>Twelve digits that change when any file does.</summary>
    public static string Version { get; } = Hash([.. _files.OrderBy(file => file.Key, StringComparer.Ordinal).SelectMany(file => file.Value.Bytes), .. Encoding.UTF8.GetBytes(Joined(_worker))]);

    private static readonly PocketFile _workerFile = Worker();

    public static void Map(IEndpointRouteBuilder routes) =>
        routes.MapGet("/pocket/{name?}", (string? name, HttpContext http) =>
        {
            if (name is null && !http.Request.Path.Value!.EndsWith('/'))
            {
                return Results.LocalRedirect("/pocket/");
            }

            var file = name == "worker.js" ? _workerFile : _files.GetValueOrDefault(name ?? "index.html");
            if (file is null)
            {
                // A label's address: a phone that keeps the pocket book opens the lot there by itself, any other comes to the lot's page.
                return LotCode.Read(name!) is { } code ? Results.LocalRedirect($"/round/{code}") : Results.NotFound();
            }

            http.Response.Headers.CacheControl = "no-cache";
            return Results.Bytes(file.Bytes, file.Type, entityTag: new($"\"{Hash(file.Bytes)}\""));
        });

    /// <summary>The service worker: what it keeps, and then its script. A new version of any file is a new text.</summary>
    private static PocketFile Worker()
    {
        string[] kept = ["/pocket/", .. _files.Keys.Where(name => name != "index.html").Order(StringComparer.Ordinal).Select(name => "/pocket/" + name), .. _letters.Select(OwnFiles.AddressOf)];
        return new(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture,
            $"const pocketVersion = {JsonSerializer.Serialize(Version)};\nconst pocketFiles = {JsonSerializer.Serialize(kept)};\n{Joined(_worker)}")), "text/javascript");
    }

    private static IReadOnlyList<string> _letters => ["type/serif.woff2", "type/serif-italic.woff2", "type/serif-bold.woff2"];

    private static FrozenDictionary<string, PocketFile> Load()
    {
        var files = Assembly.GetExecutingAssembly().GetManifestResourceNames()
            .Where(name => name.StartsWith("pocket/", StringComparison.Ordinal) && !name.StartsWith("pocket/script/", StringComparison.Ordinal))
            .ToDictionary(name => name["pocket/".Length..], File, StringComparer.Ordinal);
        files.Add("pocket.js", new(Encoding.UTF8.GetBytes(Joined(_page)), "text/javascript"));
        return files.ToFrozenDictionary(StringComparer.Ordinal);
    }

    private static PocketFile File(string resource)
    {
        var bytes = Read(resource);
        return Path.GetExtension(resource) switch
        {
            ".html" => new(bytes, "text/html; charset=utf-8"),
            ".css" => new(Encoding.UTF8.GetBytes(PlainAddress().Replace(Encoding.UTF8.GetString(bytes), match => $"url({OwnFiles.AddressOf(match.Groups[1].Value)})")), "text/css"),
            ".png" => new(bytes, "image/png"),
            ".webmanifest" => new(bytes, "application/manifest+json"),
            var other => throw new InvalidOperationException($"A pocket file with {other}."),
        };
    }

    /// <summary>
    /// Modules as one script: one request on a poor signal instead of twelve, and a worker that browsers without module workers run
    /// too. Their names are unlike each other; the browser tests would not get past the first line otherwise.
    /// </summary>
    private static string Joined(IReadOnlyList<string> modules) =>
        "\"use strict\";\n(() => {\n" + string.Concat(modules.Select(module => Door().Replace(Encoding.UTF8.GetString(Read($"pocket/script/{module}.js")), ""))) + "})();\n";

    private static byte[] Read(string resource)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(resource)!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static string Hash(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes))[..12];

    [GeneratedRegex(@"url\(/assets/([^)]+)\)")]
    private static partial Regex PlainAddress();

    /// <summary>A line that imports, or the word that exports.</summary>
    [GeneratedRegex(@"^import [^;]*;\r?\n|^export (?=async |class |const |function |let )|^export \{\};\r?\n", RegexOptions.Multiline)]
    private static partial Regex Door();

    private sealed record PocketFile(byte[] Bytes, string Type);
}
