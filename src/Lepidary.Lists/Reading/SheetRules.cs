namespace Lepidary.Lists.Reading;

/// <summary>What a sheet says once for all its offers.</summary>
internal sealed record SheetRules
{
    /// <summary>Pupae a pack.</summary>
    public int? Pack { get; init; }

    /// <summary>Fewest pupae of each species.</summary>
    public int? Minimum { get; init; }

    /// <summary>Price of offers that print none.</summary>
    public PrintedPrice? Price { get; init; }

    /// <summary>Whole numbers are pence or cents: "prices in cents".</summary>
    public bool PricesInMinor { get; init; }

    /// <summary>Pupae that all prices pay for: "prices per 10".</summary>
    public int? PricesPer { get; init; }

    /// <summary>Prices are for a pack (true), for one (false), or not said.</summary>
    public bool? PricesPerPack { get; init; }

    /// <summary>So many per cent less from a number of each species on.</summary>
    public IReadOnlyList<(int From, decimal Percent)> PercentBreaks { get; init; } = [];

    /// <summary>Pupae for which each of several prices on a line holds: "each / per 10 / per 50". Empty where not said.</summary>
    public IReadOnlyList<int> PriceSteps { get; init; } = [];

    /// <summary>Numbers available count packs: "stock in packs of 10".</summary>
    public bool StockInPacks { get; init; }

    /// <summary>Small numbers of pupae that its sentences speak of.</summary>
    public IReadOnlySet<int> Numbers { get; init; } = new HashSet<int>();

    /// <summary>So much less each from a number of each species on.</summary>
    public IReadOnlyList<(int From, decimal Less)> AmountsOff { get; init; } = [];

    /// <summary>Pupae from which further prices on a line hold, said in a sentence: "from 20 of a species the second price holds".</summary>
    public IReadOnlyList<int> Thresholds { get; init; } = [];

    /// <summary>True when it says how its prices or packs are meant, so that another sheet's word on that does not hold here.</summary>
    public bool SpeaksOfPrices => Pack is not null || PricesPer is not null || PricesPerPack is not null || Price is not null;

    /// <summary>These rules and, where they say nothing, others.</summary>
    public SheetRules Or(SheetRules others) => new()
    {
        Pack = Pack ?? others.Pack,
        Minimum = Minimum ?? others.Minimum,
        Price = Price ?? others.Price,
        PricesInMinor = PricesInMinor || others.PricesInMinor,
        PricesPer = PricesPer ?? others.PricesPer,
        PricesPerPack = PricesPerPack ?? others.PricesPerPack,
        PercentBreaks = PercentBreaks.Count > 0 ? PercentBreaks : others.PercentBreaks,
        StockInPacks = StockInPacks || others.StockInPacks,
        Numbers = Numbers.Count > 0 ? Numbers : others.Numbers,
        AmountsOff = AmountsOff.Count > 0 ? AmountsOff : others.AmountsOff,
        Thresholds = Thresholds.Count > 0 ? Thresholds : others.Thresholds,
        PriceSteps = PriceSteps.Count > 0 ? PriceSteps : others.PriceSteps,
    };
}
