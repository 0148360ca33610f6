namespace Lepidary.Taxa.Table;

/// <summary>Where a taxon stands above its genus. A part that is not known is empty.</summary>
internal sealed record Place(string Family, string TradeFamily, string Subfamily, string Tribe)
{
    /// <summary>Old families that are subfamilies or whole families now, beyond those that the table prints as trade families. General knowledge.</summary>
    private static readonly Dictionary<string, string> oldFamilies = new(StringComparer.OrdinalIgnoreCase)
    {
        ["Apaturidae"] = "Apaturinae",
        ["Arctiidae"] = "Arctiinae",
        ["Argynnidae"] = "Argynnini",
        ["Attacidae"] = "Saturniidae",
        ["Biblididae"] = "Biblidinae",
        ["Charaxidae"] = "Charaxinae",
        ["Lemoniidae"] = "Lemoniinae",
        ["Limenitidae"] = "Limenitidinae",
        ["Limenitididae"] = "Limenitidinae",
        ["Lymantriidae"] = "Lymantriinae",
        ["Parnassiidae"] = "Parnassiinae",
        ["Satyridae"] = "Satyrinae",
    };

    /// <summary>Nothing known.</summary>
    public static Place Unknown { get; } = new("", "", "", "");

    /// <summary>The place of a taxon.</summary>
    public static Place Of(Taxon taxon) => new(taxon.Family, taxon.TradeFamily, taxon.Subfamily, taxon.Tribe);

    /// <summary>The place that a name of a family, subfamily or tribe stands for; <see cref="Unknown"/> where it is none of the table.</summary>
    public static Place Named(TaxonTable table, string rank)
    {
        var first = table.All.FirstOrDefault(t => Holds(rank, t));
        if (first is null)
            return Unknown;
        var place = Of(first);
        if (!table.All.Where(t => Holds(rank, t)).All(t => t.Tribe == place.Tribe))
            place = place with { Tribe = "" };
        if (!table.All.Where(t => Holds(rank, t)).All(t => t.Subfamily == place.Subfamily))
            place = place with { Subfamily = "" };
        return place;
    }

    /// <summary>
    /// True where a taxon belongs to a family (new or old name), subfamily or tribe. An old family holds what the table prints under it, and
    /// of the rank it became what the table prints under no other old family.
    /// </summary>
    public static bool Holds(string rank, Taxon taxon)
    {
        if (rank.Length == 0)
            return false;
        bool Is(string name) => name.Equals(rank, StringComparison.OrdinalIgnoreCase);
        if (Is(taxon.Family) || Is(taxon.TradeFamily) || Is(taxon.Subfamily) || Is(taxon.Tribe))
            return true;
        return oldFamilies.TryGetValue(rank, out var now)
            && (taxon.TradeFamily.Length == 0 && (taxon.Subfamily == now || taxon.Tribe == now) || taxon.Family == now);
    }
}
