namespace Lepidary.Taxa.Names;

/// <summary>Words that stand around names on lists. None of them is ever a genus or an epithet.</summary>
internal static class TradeWords
{
    /// <summary>Says what is posted, of which sex, how fresh: never part of a name.</summary>
    public static IReadOnlySet<string> Noise { get; } = Set(
        "pupa pupae pupas pupe pupen puppe puppen poppen pop chrysalis chrysalids chrysalides chrysalide chrysalises nymphe nymphes crisalida crisalidas",
        "crisalide crisalidi bozzolo bozzoli capullo capullos cocoon cocoons kokon kokons cocon cocons live lebend lebende levende vivant vivants vivas vive",
        "new neu nieuw nouveau nuevo nuova nuovo fresh frisch vers male males female females mannchen weibchen mannetje vrouwtje macho hembra maschio femmina",
        "pair pairs paar pcs pc stk stuck stuks pezzi piece pieces each reserved special offer aktion sale ex wild farmed bred only");

    /// <summary>Before a subspecies or a form.</summary>
    public static IReadOnlySet<string> FormMarks { get; } = Set("ssp subsp subspecies sspp f form forma fm var variety ab aberration morph race rasse");

    /// <summary>Form marks that are printed before the name; a subspecies is printed bare.</summary>
    public static IReadOnlySet<string> KeptFormMarks { get; } = Set("f form forma fm var variety ab aberration morph");

    /// <summary>Says that the species is not sure.</summary>
    public static IReadOnlySet<string> Unsure { get; } = Set("cf aff nr near prope conf");

    /// <summary>Stands for a species that is not named.</summary>
    public static IReadOnlySet<string> NoSpecies { get; } = Set(
        "sp spp spec species mix mixed mixture mixes assorted assortment various misc miscellaneous gemischt gemischte sortiert mischung melange",
        "assorti assortis divers diverses gemengd mezcla surtido surtidas misto misti assortiti soorten arten especes especies specie collection selection");

    /// <summary>Joins two names.</summary>
    public static IReadOnlySet<string> Joins { get; } = Set("and or und oder et ou en of y o e ed ex hybrid hybride");

    /// <summary>Ordinary words of lists and letters that look Latin enough to be taken for a name.</summary>
    public static IReadOnlySet<string> Ordinary { get; } = Set(
        "total subtotal delivery price prices list week date order orders minimum maximum carriage postage packing handling insurance shipping charge charges",
        "please note notes free extra box boxes size large small medium big giant mini payment terms invoice quote quantity available availability stock",
        "supplier address phone mobile email contact bank account customer name names common scientific latin family genus country origin farm region",
        "monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october november december",
        "the this that these those with without from for our your we you all any not and per more less next last first second due will are is has have can",
        "preis preise liste preisliste woche datum bestellung versand verpackung porto gesamt summe bitte beachten hinweis lieferung menge gratis",
        "prix tarif semaine commande livraison emballage frais merci nota bene remarque quantite disponible stock gratuit lettre envoi",
        "temporada precio precios lista semana fecha pedido entrega envio gastos cantidad disponible gracias total minimo proxima nuevas mariposas mariposa grandes",
        "prezzo prezzi listino settimana data ordine consegna spedizione spese quantita disponibile grazie totale minimo farfalle farfalla",
        "prijs prijzen lijst bestelling levering verzending aantal beschikbaar totaal vlinders vlinder gratis",
        "costa rica puerto rico san santa los las el la le les de del der die das den het een una uno sur norte north south east west america africa asia",
        "europa europe india china malaysia philippines thailand kenya tanzania ecuador peru colombia suriname belize mexico indonesia papua guinea",
        "bonus status menus campus plus versus circus focus virus census basis analysis crisis oasis media data agenda area extra via visa cafe resume",
        "netto brutto net gross page pages seite pagina butterfly butterflies moth moths");

    private static IReadOnlySet<string> Set(params string[] lines) => lines.SelectMany(l => l.Split(' ')).ToHashSet(StringComparer.Ordinal);
}
