using System.Net;
using System.Text.RegularExpressions;

namespace Lepidary.App.Tests.Support;

/// <summary>A form of a page as a browser would send it: hidden fields and all.</summary>
internal sealed partial class PageForm
{
    private readonly string address;

    private PageForm(string address, Dictionary<string, string> fields) => (this.address, Fields) = (address, fields);

    public Dictionary<string, string> Fields { get; }

    /// <summary>The form of a page whose opening tag holds a text.</summary>
    public static PageForm Of(string page, string marker)
    {
        var form = Forms().Matches(page).FirstOrDefault(form => form.Value.Contains(marker, StringComparison.Ordinal));
        Assert.True(form is not null, $"no form with {marker} on the page:\n{page}");
        var fields = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (Match input in Inputs().Matches(form.Value))
        {
            var attributes = Attributes().Matches(input.Value).ToDictionary(part => part.Groups[1].Value, part => WebUtility.HtmlDecode(part.Groups[2].Value), StringComparer.Ordinal);
            if (attributes.TryGetValue("name", out var name) && attributes.GetValueOrDefault("type") is not ("checkbox" or "radio"))
            {
                fields[name] = attributes.GetValueOrDefault("value", "");
            }
        }

        return new(WebUtility.HtmlDecode(Attributes().Matches(form.Value[..form.Value.IndexOf('>', StringComparison.Ordinal)]).First(part => part.Groups[1].Value == "action").Groups[2].Value), fields);
    }

    /// <summary>Sends it with some fields filled in.</summary>
    public async Task<(HttpStatusCode Status, string Page, string Address)> Send(HttpClient browser, params (string Name, string Value)[] typed)
    {
        foreach (var (name, value) in typed)
        {
            Fields[name] = value;
        }

        using var content = new FormUrlEncodedContent(Fields);
        var answer = await browser.PostAsync(new Uri(address, UriKind.Relative), content, TestContext.Current.CancellationToken);
        return (answer.StatusCode, WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)), answer.RequestMessage!.RequestUri!.PathAndQuery);
    }

    [GeneratedRegex("<form[^>]*>.*?</form>", RegexOptions.Singleline)]
    private static partial Regex Forms();

    [GeneratedRegex("<(?:input|textarea)[^>]*>")]
    private static partial Regex Inputs();

    [GeneratedRegex("([\\w-]+)=\"([^\"]*)\"")]
    private static partial Regex Attributes();
}

internal static class Pages
{
    /// <summary>A page that must be there, as it is written.</summary>
    public static async Task<string> Page(this HttpClient browser, string address)
    {
        var answer = await browser.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        var page = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{address}: {answer.StatusCode}\n{page}");
        return page;
    }
}
