namespace Lepidary.Taxa.Names;

/// <summary>The realms that a heading of a list speaks of: a country that breeds for the trade, a continent, or a realm itself. General knowledge.</summary>
internal static class Realms
{
    private static readonly (string Realm, string[] Words)[] realms =
    [
        ("Neotropical", ["neotropical", "costarica", "ecuador", "colombia", "peru", "suriname", "belize", "mexico", "brazil", "guyana", "salvador", "honduras", "guatemala", "panama", "nicaragua", "southamerica", "centralamerica", "southamerican"]),
        ("Afrotropical", ["afrotropical", "africa", "african", "kenya", "kenyan", "tanzania", "tanzanian", "uganda", "ghana", "madagascar", "malagasy"]),
        ("Indomalayan", ["indomalayan", "oriental", "asia", "asian", "philippines", "philippine", "malaysia", "malaysian", "thailand", "thai", "india", "indian", "srilanka", "vietnam", "taiwan", "indonesia", "indonesian"]),
        ("Australasian", ["australasian", "australia", "australian", "papua", "newguinea", "indonesia", "indonesian"]),
        ("Palearctic", ["palearctic", "palaearctic", "europe", "european", "japan", "japanese", "china", "chinese"]),
        ("Nearctic", ["nearctic", "northamerica", "northamerican", "usa", "canada"]),
    ];

    /// <summary>The realms named; empty where the heading names none.</summary>
    public static IReadOnlyList<string> Named(string heading)
    {
        var words = PrintedName.Words(heading);
        var pairs = words.Zip(words.Skip(1), (first, second) => first + second);
        var said = words.Concat(pairs).ToHashSet(StringComparer.Ordinal);
        return [.. realms.Where(r => r.Words.Any(said.Contains)).Select(r => r.Realm)];
    }
}
