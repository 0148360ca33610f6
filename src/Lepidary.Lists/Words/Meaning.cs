namespace Lepidary.Lists.Words;

/// <summary>What a word or phrase of a supplier's list can mean; the sections of <c>words.txt</c>.</summary>
internal enum Meaning
{
    /// <summary>Title of the column with the names.</summary>
    Species,
    Common,
    Genus,
    Epithet,
    Form,
    Family,
    Origin,
    Price,

    /// <summary>Said of a price: for one.</summary>
    Each,
    Per,
    For,
    At,

    /// <summary>Before or behind a number of pupae: so many come together.</summary>
    PackOf,

    /// <summary>Said of all offers: they are sold so many at a time.</summary>
    SoldIn,

    /// <summary>Title of the column that says what a price is for.</summary>
    UnitTitle,
    Minimum,
    From,
    OrMore,
    UpTo,
    Available,
    Only,
    Left,
    SoldOut,

    /// <summary>Not this week.</summary>
    Later,

    /// <summary>Each line says for itself whether it holds for it: "where shown".</summary>
    WhereShown,

    /// <summary>A price that is told when asked for.</summary>
    OnRequest,

    /// <summary>Available, but with no number said.</summary>
    Limited,
    Plenty,

    /// <summary>Title of the column that the keeper fills in.</summary>
    Order,

    /// <summary>Title that is either what there is or what the keeper wants.</summary>
    Quantity,
    Total,
    Note,
    Code,
    Status,
    CurrencyTitle,
    KindTitle,

    /// <summary>Title of a column with numbers that are no concern of an order: wingspan, margin, days.</summary>
    Aside,
    Pieces,
    Packs,
    PerPack,

    /// <summary>Said of animals that come so many together, behind the number.</summary>
    Packed,

    /// <summary>Who pays a price, where a list has several: members, the trade.</summary>
    Buyers,

    /// <summary>Unless it is said otherwise.</summary>
    Unless,
    Pupa,
    Cocoon,
    Mix,

    /// <summary>Has a word for a mix in it and yet is one species: mixed sexes.</summary>
    NotMix,

    /// <summary>The price before was.</summary>
    Old,
    Now,
    Approx,
    Pence,
    Yes,
    No,
    Number2,
    Number3,
    Number4,
    Number5,
    Number6,
    Number7,
    Number8,
    Number9,
    Number10,
    Number12,
    Number13,
    Number14,
    Number15,
    Number16,
    Number17,
    Number18,
    Number19,
    Number20,
    Number24,
    Number25,
    Number30,
    Number35,
    Number40,
    Number45,
    Number50,
    Number60,
    Number70,
    Number75,
    Number80,
    Number90,
    Number100,
    Number150,
    Number200,
    Tax,
    Excluding,
    Including,
    NetPrices,
    GrossPrices,
    ListTitle,
    ListDate,

    /// <summary>A day that is not the list's: deadline, dispatch.</summary>
    OtherDate,

    /// <summary>The day on which a box leaves or comes: the list's day where it names no other.</summary>
    DispatchDate,
    SupplierLabel,

    /// <summary>Found in names of firms.</summary>
    Firm,
    Permit,
    Document,
    Box,
    Packing,
    Carriage,
    Handling,
    AtCost,
    PerBox,
    PerShipment,
    PerPermit,
    PerOrder,
    Discount,

    /// <summary>Said of the order as a whole and not of one offer.</summary>
    WholeOrder,

    /// <summary>Turns what it stands beside into its contrary.</summary>
    Not,

    /// <summary>A rule for each kind and not for the order.</summary>
    PerSpecies,

    /// <summary>Begins a statement about all prices.</summary>
    Prices,

    /// <summary>Speaks of all offers at once.</summary>
    All,

    /// <summary>The price of what was named before.</summary>
    SamePrice,

    /// <summary>Holds for all that were just named.</summary>
    Both,

    /// <summary>Before a name: there is none of it.</summary>
    None,

    /// <summary>A heading that groups offers without being a family.</summary>
    Region,
}
