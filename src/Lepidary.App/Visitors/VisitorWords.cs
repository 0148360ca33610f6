using System.Globalization;

namespace Lepidary.App.Visitors;

/// <summary>What the house says to its visitors, in one language.</summary>
/// <param name="Language">ISO 639-1.</param>
/// <param name="OwnName">The language in itself.</param>
/// <param name="Heading">Over the sheet.</param>
/// <param name="Nothing">Where nothing flies.</param>
/// <param name="Sums">About how many butterflies of how many species: {0} and {1}.</param>
/// <param name="Name">Head of the names.</param>
/// <param name="From">Head of where they live.</param>
/// <param name="Count">Head of how many.</param>
/// <param name="Life">Head of how long they live.</param>
/// <param name="About">About so many: {0}.</param>
/// <param name="OneOrTwo">For one or two.</param>
/// <param name="Days">So many days: {0}.</param>
/// <param name="Weeks">So many weeks, at least two: {0}.</param>
/// <param name="WeekToTwo">About a week.</param>
/// <param name="Months">So many months, at least two: {0}.</param>
/// <param name="Why">What the figures are.</param>
/// <param name="Regions">Where the realms lie, by the realm's name.</param>
internal sealed record VisitorWords(
    string Language, string OwnName, string Heading, string Nothing, string Sums, string Name, string From, string Count, string Life, string About, string OneOrTwo,
    string Days, string Weeks, string WeekToTwo, string Months, string Why, IReadOnlyDictionary<string, string> Regions)
{
    /// <summary>Languages that the house can speak.</summary>
    public static IReadOnlyList<string> Languages => [.. All.Select(words => words.Language)];

    /// <summary>Every language, English first.</summary>
    public static IReadOnlyList<VisitorWords> All { get; } =
    [
        new("en", "English", "Flying today", "Nothing flies today.", "About {0} butterflies of {1} species", "Name", "Lives in", "How many", "Lives for", "about {0}", "one or two",
            "{0} days", "{0} weeks", "about a week", "{0} months",
            "Counted from what emerged here and how long each species lives. Weather hides some of them.",
            Of("Central and South America", "South and South-East Asia", "Africa south of the Sahara", "Australia and New Guinea", "North America", "Europe and northern Asia")),
        new("de", "Deutsch", "Heute fliegen", "Heute fliegt nichts.", "Etwa {0} Schmetterlinge aus {1} Arten", "Name", "Heimat", "Wie viele", "Lebt", "etwa {0}", "einer oder zwei",
            "{0} Tage", "{0} Wochen", "etwa eine Woche", "{0} Monate",
            "Gezählt nach dem, was hier geschlüpft ist, und wie lange jede Art lebt. Bei trübem Wetter verstecken sich manche.",
            Of("Mittel- und Südamerika", "Süd- und Südostasien", "Afrika südlich der Sahara", "Australien und Neuguinea", "Nordamerika", "Europa und Nordasien")),
        new("fr", "Français", "En vol aujourd’hui", "Rien ne vole aujourd’hui.", "Environ {0} papillons de {1} espèces", "Nom", "Vit en", "Combien", "Vit", "environ {0}", "un ou deux",
            "{0} jours", "{0} semaines", "une semaine environ", "{0} mois",
            "Compté d’après les éclosions ici et la durée de vie de chaque espèce. Par temps gris, certains se cachent.",
            Of("Amérique centrale et du Sud", "Asie du Sud et du Sud-Est", "Afrique subsaharienne", "Australie et Nouvelle-Guinée", "Amérique du Nord", "Europe et Asie du Nord")),
        new("es", "Español", "Vuelan hoy", "Hoy no vuela nada.", "Unas {0} mariposas de {1} especies", "Nombre", "Vive en", "Cuántas", "Vive", "unas {0}", "una o dos",
            "{0} días", "{0} semanas", "una semana más o menos", "{0} meses",
            "Contado según lo que ha nacido aquí y cuánto vive cada especie. Con mal tiempo algunas se esconden.",
            Of("América Central y del Sur", "el sur y el sudeste de Asia", "África subsahariana", "Australia y Nueva Guinea", "América del Norte", "Europa y el norte de Asia")),
        new("nl", "Nederlands", "Vandaag vliegen", "Vandaag vliegt er niets.", "Ongeveer {0} vlinders van {1} soorten", "Naam", "Leeft in", "Hoeveel", "Wordt", "ongeveer {0}", "een of twee",
            "{0} dagen", "{0} weken", "ongeveer een week", "{0} maanden",
            "Geteld naar wat hier is uitgekomen en hoe lang elke soort leeft. Bij somber weer verstoppen sommige zich.",
            Of("Midden- en Zuid-Amerika", "Zuid- en Zuidoost-Azië", "Afrika ten zuiden van de Sahara", "Australië en Nieuw-Guinea", "Noord-Amerika", "Europa en Noord-Azië")),
        new("it", "Italiano", "Volano oggi", "Oggi non vola niente.", "Circa {0} farfalle di {1} specie", "Nome", "Vive in", "Quante", "Vive", "circa {0}", "una o due",
            "{0} giorni", "{0} settimane", "circa una settimana", "{0} mesi",
            "Contate da quelle nate qui e da quanto vive ogni specie. Con il cielo coperto alcune si nascondono.",
            Of("America centrale e meridionale", "Asia meridionale e sud-orientale", "Africa subsahariana", "Australia e Nuova Guinea", "America settentrionale", "Europa e Asia settentrionale")),
    ];

    /// <summary>The words of a language; English where it is none of them.</summary>
    public static VisitorWords Of(string? language) => All.FirstOrDefault(words => words.Language == language) ?? All[0];

    /// <summary>Where a realm lies; nothing for one that is not known.</summary>
    public string Region(string realm) => Regions.GetValueOrDefault(realm, "");

    /// <summary>About how many: one or two, then whole numbers to ten, then rounded to fives, since nobody counts butterflies to the last.</summary>
    public string HowMany(double mean) => mean < 2.5 ? OneOrTwo : Say(About, mean < 10.5 ? (int)Math.Round(mean) : (int)Math.Round(mean / 5) * 5);

    /// <summary>How long adults live here: days below a week, then weeks, then months.</summary>
    public string HowLong(double days) => days switch
    {
        < 6.5 => Say(Days, (int)Math.Round(days)),
        < 10.5 => WeekToTwo,
        < 60 => Say(Weeks, Math.Max(2, (int)Math.Round(days / 7))),
        _ => Say(Months, Math.Max(2, (int)Math.Round(days / 30.4))),
    };

    /// <summary>A sentence with its numbers.</summary>
    public static string Say(string words, params object[] numbers) => string.Format(CultureInfo.InvariantCulture, words, numbers);

    private static Dictionary<string, string> Of(string neotropical, string indomalayan, string afrotropical, string australasian, string nearctic, string palearctic) =>
        new(StringComparer.Ordinal)
        {
            ["Neotropical"] = neotropical,
            ["Indomalayan"] = indomalayan,
            ["Afrotropical"] = afrotropical,
            ["Australasian"] = australasian,
            ["Nearctic"] = nearctic,
            ["Palearctic"] = palearctic,
        };
}
