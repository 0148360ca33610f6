using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Lepidary.Demo;

/// <summary>What the sender of a list meant by one line of it: what a reader of lists should find there.</summary>
internal sealed record Meant(string? Sheet, int Line, WeekOffer Offer)
{
    private static readonly HashSet<string> Cocoons =
        ["Actias", "Antheraea", "Argema", "Attacus", "Epiphora", "Hyalophora", "Rothschildia", "Samia"];

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static byte[] ToJson(IEnumerable<(string File, IReadOnlyList<Meant> Offers)> lists)
    {
        StringBuilder text = new("{\n");
        text.AppendJoin(",\n", lists.Select(list =>
            $"\"{list.File}\": [\n{string.Join(",\n", list.Offers.Select(m => JsonSerializer.Serialize(m.ToPlain(), Json)))}\n]"));
        return Encoding.UTF8.GetBytes(text.Append("\n}\n").ToString());
    }

    private Plain ToPlain()
    {
        Ware ware = Offer.Ware;
        bool letter = ware.Key == 'K';
        string kind = ware.Mix ? "mix" : ware.Taxon is { } taxon && Cocoons.Contains(taxon.Split(' ')[0]) ? "cocoon" : "pupa";
        bool printsForm = ware.Form is not null && ware.Printed.Split(' ').Length > 2;
        return new(
            Sheet, Line, ware.Printed, ware.Taxon, printsForm ? ware.Form : null, kind,
            letter && Offer.SoldOut ? null : Offer.Price,
            letter && Offer.SoldOut ? [] : [.. Offer.Breaks.Select(b => new Break(b.From, b.Price))],
            letter && Offer.SoldOut ? 1 : ware.Pack, ware.Minimum > 1 && !(letter && Offer.SoldOut) ? ware.Minimum : null,
            Offer.SoldOut ? null : Offer.Available, Offer.SoldOut);
    }

    private sealed record Break(int From, decimal Price);

    private sealed record Plain(
        string? Sheet, int Line, string Printed, string? Taxon, string? Form, string Kind, decimal? Price, Break[] Breaks, int Pack,
        int? Minimum, int? Available, bool SoldOut);
}
