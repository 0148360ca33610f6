using System.Collections.Frozen;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;

namespace Lepidary.App.Host;

/// <summary>
/// The style sheet, type and marks, carried inside the program: nothing is fetched from anywhere, and the program runs from any folder.
/// Addresses carry a hash of the content, so that a browser may keep them for good.
/// </summary>
internal static class OwnFiles
{
    private const string BaseStyle = "style/Layout/lepidary.css";

    private static readonly FrozenDictionary<string, Asset> ByAddress = Load();

    /// <summary>Address of the one style sheet: the base and every feature's own, joined.</summary>
    public static string Style { get; } = ByAddress.Keys.Single(address => address.EndsWith("lepidary.css", StringComparison.Ordinal));

    /// <summary>Address of the mark in the browser's tab.</summary>
    public static string Mark { get; } = ByAddress.Keys.Single(address => address.EndsWith("lepidary.svg", StringComparison.Ordinal));

    /// <summary>Address of the upright type, fetched early.</summary>
    public static string Serif { get; } = ByAddress.Keys.Single(address => address.EndsWith("/serif.woff2", StringComparison.Ordinal));

    /// <summary>Address of a file of this program by its plain path, as <c>type/serif.woff2</c>.</summary>
    public static string AddressOf(string path) => ByAddress.Keys.Single(address => address.EndsWith("/" + path, StringComparison.Ordinal));

    public static void Map(IEndpointRouteBuilder routes) =>
        routes.MapGet("/assets/{**path}", (string path, HttpContext http) =>
        {
            if (!ByAddress.TryGetValue("/assets/" + path, out var asset))
            {
                return Results.NotFound();
            }

            http.Response.Headers.CacheControl = "public, max-age=31536000, immutable";
            return Results.Bytes(asset.Content, asset.Type);
        });

    private static FrozenDictionary<string, Asset> Load()
    {
        var names = Assembly.GetExecutingAssembly().GetManifestResourceNames().Select(name => (Name: name, Path: name.Replace('\\', '/'))).ToList();
        var assets = new Dictionary<string, Asset>(StringComparer.Ordinal);
        foreach (var (name, path) in names.Where(item => item.Path.StartsWith("file/", StringComparison.Ordinal)))
        {
            var type = Path.GetExtension(path) switch { ".woff2" => "font/woff2", ".svg" => "image/svg+xml", ".js" => "text/javascript", var other => throw new InvalidOperationException($"Asset with {other}.") };
            Add(path["file/".Length..], new Asset(Read(name), type));
        }

        var sheets = names.Where(item => item.Path.StartsWith("style/", StringComparison.Ordinal))
            .OrderBy(item => item.Path == BaseStyle ? 0 : 1).ThenBy(item => item.Path, StringComparer.Ordinal)
            .Select(item => Encoding.UTF8.GetString(Read(item.Name)).TrimStart('\uFEFF'));
        var style = new StringBuilder(string.Join('\n', sheets));
        foreach (var address in assets.Keys.ToList())
        {
            // A style sheet names a file plainly; the address with its hash is put in here.
            style.Replace($"url(/assets/{address[(address.IndexOf('/', "/assets/".Length) + 1)..]})", $"url({address})");
        }

        Add("lepidary.css", new Asset(Encoding.UTF8.GetBytes(style.ToString()), "text/css"));
        return assets.ToFrozenDictionary(StringComparer.Ordinal);

        void Add(string path, Asset asset) =>
            assets.Add($"/assets/{Convert.ToHexStringLower(SHA256.HashData(asset.Content))[..12]}/{path}", asset);
    }

    private static byte[] Read(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)!;
        var content = new byte[stream.Length];
        stream.ReadExactly(content);
        return content;
    }

    private sealed record Asset(byte[] Content, string Type);
}
