using System.Text.Json;
using Lepidary.App.Tests.Support;

namespace Lepidary.App.Tests.Lists;

/// <summary>The demo's lists say what their senders meant: meant.json is written by the demo's own generator, before and apart from any reader.</summary>
public sealed class DemoListsTests
{
    private static readonly string[] Fields = ["taxon", "price", "pack", "minimum", "soldOut"];

    [Fact]
    public async Task Read_each_offer_as_meant_or_with_a_doubt_beside_it()
    {
        await using var book = new TestBook();
        var meant = JsonDocument.Parse(await File.ReadAllTextAsync(DemoFolder.File("public-glasshouse/meant.json"), TestContext.Current.CancellationToken)).RootElement;
        var wrong = new List<string>();
        var count = 0;
        foreach (var (_, file) in DemoFolder.ThisWeek)
        {
            var read = (await book.Done("lists", "read", file, "--json")).Json.GetProperty("offers").EnumerateArray().ToLookup(offer => (offer.GetProperty("line").GetInt32(), Sheet(offer, file)));
            foreach (var offer in meant.GetProperty("lists/" + Path.GetFileName(file)).EnumerateArray())
            {
                count++;
                var line = offer.GetProperty("line").GetInt32();
                var found = read[(line, Sheet(offer, file))].Single();
                if (found.GetProperty("doubts").GetArrayLength() == 0 && (Fields.Any(field => Said(offer, field) != Said(found, field)) || Breaks(offer) != Breaks(found)))
                {
                    wrong.Add($"{Path.GetFileName(file)}, line {line}: {found}");
                }
            }
        }

        Assert.True(count > 150);
        Assert.Empty(wrong);
    }

    private static string? Sheet(JsonElement offer, string file) =>
        file.EndsWith(".xlsx", StringComparison.Ordinal) && offer.TryGetProperty("sheet", out var sheet) ? sheet.GetString() : null;

    private static string Said(JsonElement offer, string field) =>
        !offer.TryGetProperty(field, out var value) || value.ValueKind == JsonValueKind.Null ? field switch { "pack" => "1", "soldOut" => "False", _ => "" }
        : value.ValueKind == JsonValueKind.Number ? value.GetDecimal().ToString("0.####", System.Globalization.CultureInfo.InvariantCulture) : value.ToString();

    private static string Breaks(JsonElement offer) =>
        offer.TryGetProperty("breaks", out var breaks) && breaks.ValueKind == JsonValueKind.Array
            ? string.Join(';', breaks.EnumerateArray().Select(step => Said(step, "from") + ":" + Said(step, "price")))
            : "";
}
