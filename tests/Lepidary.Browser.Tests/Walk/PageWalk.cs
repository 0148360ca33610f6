using System.Collections.Concurrent;
using System.Text.RegularExpressions;
using Lepidary.Browser.Harness;

namespace Lepidary.Browser.Walk;

/// <summary>The pages that a keeper can reach: those of the contents by name, the inner ones by following links.</summary>
internal static partial class PageWalk
{
    /// <summary>Variable that names other routes to look at, with spaces between: for <c>tools/look</c>.</summary>
    public const string LookVariable = "LEPIDARY_LOOK";

    /// <summary>How many pages alike are asked for.</summary>
    private const int OfEachKind = 4;

    private static readonly ConcurrentDictionary<BookServer, Lazy<Task<IReadOnlyList<Answer>>>> _walks = [];

    /// <summary>Every page of the contents, in the order of the week, and the contents themselves.</summary>
    public static IReadOnlyList<string> Routes { get; } =
        ["/", "/lists", "/weeks", "/order", "/deliveries", "/round", "/flying", "/paper", "/species", "/suppliers", "/season", "/honesty", "/house", "/contents"];

    /// <summary>The routes to keep pictures of for their own sake: those that <see cref="LookVariable"/> names, or all; else the first, since <c>tools/look</c> is there for the others.</summary>
    public static IReadOnlyList<string> ToLookAt { get; } =
        Environment.GetEnvironmentVariable(LookVariable) switch
        {
            null or "" => [Routes[0]],
            "all" => Routes,
            var named => named.Split(' ', StringSplitOptions.RemoveEmptyEntries),
        };

    /// <summary>A file name for the picture of a route: <c>/species/idea-leuconoe?by=x</c> gives <c>species-idea-leuconoe-by-x</c>.</summary>
    public static string FileName(string route) =>
        NotOfAName().Replace(route, "-").Trim('-') is { Length: > 0 } name ? name : "today";

    /// <summary>
    /// Follows every link from the first page on, and gives what answered. Of pages alike (one species and another) a few
    /// are enough; alike are addresses that differ only in parts that name a thing (a key, a code, a species).
    /// A book is walked once, however many ask.
    /// </summary>
    /// <param name="server">A book that is served.</param>
    public static Task<IReadOnlyList<Answer>> FollowLinks(BookServer server) =>
        _walks.GetOrAdd(server, new Lazy<Task<IReadOnlyList<Answer>>>(() => Walk(server))).Value;

    private static async Task<IReadOnlyList<Answer>> Walk(BookServer server)
    {
        using var client = new HttpClient();
        var waiting = new Queue<(string Route, string From)>([("/", "")]);
        var met = new HashSet<string> { "/" };
        var asked = new Dictionary<string, int>();
        var answers = new List<Answer>();
        while (waiting.TryDequeue(out var next))
        {
            var kind = Kind(next.Route);
            if (asked.GetValueOrDefault(kind) >= OfEachKind)
            {
                continue;
            }

            asked[kind] = asked.GetValueOrDefault(kind) + 1;
            using var answer = await client.GetAsync(server.Page(next.Route));
            var isPage = answer.Content.Headers.ContentType?.MediaType == "text/html";
            answers.Add(new Answer(next.Route, kind, next.From, (int)answer.StatusCode, isPage, asked[kind] == 1));
            if (isPage)
            {
                var html = await answer.Content.ReadAsStringAsync();
                foreach (var route in Links(html, server.Page(next.Route)).Where(met.Add))
                {
                    waiting.Enqueue((route, next.Route));
                }
            }
        }

        return answers;
    }

    private static IEnumerable<string> Links(string html, Uri page) =>
        from Match link in Anchor().Matches(html)
        let target = new Uri(page, System.Net.WebUtility.HtmlDecode(link.Groups["to"].Value))
        where target.Authority == page.Authority && target.Scheme == page.Scheme
        select target.PathAndQuery;

    private static string Kind(string route)
    {
        var parts = route.Split('?')[0].Split('/', StringSplitOptions.RemoveEmptyEntries);
        return string.Join('/', parts.Select(part => part.All(letter => letter is (>= 'a' and <= 'z') or '-') ? part : "*")) + (route.Contains('?') ? "?" : "");
    }

    /// <summary>What a link led to.</summary>
    /// <param name="Route">Path and query.</param>
    /// <param name="Kind">What it is alike.</param>
    /// <param name="From">The page that links to it.</param>
    /// <param name="Status">HTTP status.</param>
    /// <param name="IsPage">False for a file to keep.</param>
    /// <param name="IsFirstOfItsKind">Whether none alike was asked before.</param>
    public sealed record Answer(string Route, string Kind, string From, int Status, bool IsPage, bool IsFirstOfItsKind);

    [GeneratedRegex(@"<a\s[^>]*?href=""(?<to>[^""]*)""")]
    private static partial Regex Anchor();

    [GeneratedRegex("[^A-Za-z0-9]+")]
    private static partial Regex NotOfAName();
}
