namespace Lepidary.Lists.Reading;

/// <summary>A price as printed.</summary>
/// <param name="Amount">In its currency's main unit: pence are already turned into pounds.</param>
/// <param name="Currency">ISO code printed beside it, or null.</param>
/// <param name="From">Pupae from which it holds.</param>
/// <param name="Per">Pupae that it pays for; null where not said, 0 for a pack of a size said elsewhere.</param>
/// <param name="Marked">True when a currency or a word proves that it is a price.</param>
internal sealed record PrintedPrice(decimal Amount, string? Currency, int From = 1, int? Per = null, bool Marked = false);

/// <summary>What one text says about an offer, before it is known what the other cells say.</summary>
internal sealed class Facts
{
    public List<PrintedPrice> Prices { get; } = [];

    /// <summary>Prices that no longer hold.</summary>
    public List<PrintedPrice> OldPrices { get; } = [];

    public int? Pack { get; set; }

    /// <summary>Pupae for which a price is printed as one sum: "5 for 12.00". A pack, when no price for one stands beside it.</summary>
    public int? Lot { get; set; }

    public int? Minimum { get; set; }

    /// <summary>The minimum counts packs.</summary>
    public bool MinimumInPacks { get; set; }

    public int? Available { get; set; }

    /// <summary>The number available counts packs.</summary>
    public bool AvailableInPacks { get; set; }

    /// <summary>A column of units says that the price is for one.</summary>
    public bool PriceForOne { get; set; }

    public bool SoldOut { get; set; }

    /// <summary>Said to be there, with or without a number.</summary>
    public bool InStock { get; set; }

    public bool Mix { get; set; }

    public bool Cocoon { get; set; }

    public bool Pupa { get; set; }

    /// <summary>So many per cent less from a number on.</summary>
    public List<(int From, decimal Percent)> PercentBreaks { get; } = [];

    /// <summary>Charges printed beside an offer's own price: papers, a box.</summary>
    public List<(PrintedPrice Price, HashSet<Words.Meaning> Says)> Charges { get; } = [];

    /// <summary>The pack is only a number behind a multiplication sign: <c>x5</c>.</summary>
    public bool PackByTimes { get; set; }

    /// <summary>The price printed is the lowest of several not printed.</summary>
    public bool FromPrice { get; set; }

    /// <summary>Numbers that no word explains, with the place where each stands.</summary>
    public List<Token> Bare { get; } = [];

    /// <summary>Numbers in words that nothing explains.</summary>
    public List<int> CountWords { get; } = [];

    /// <summary>A whole number at the very front with a multiplication sign: <c>40 x Papilio memnon</c>.</summary>
    public int? Times { get; set; }

    /// <summary>Digits that make no number: grouped oddly, or several numbers run together.</summary>
    public List<string> Unread { get; } = [];

    /// <summary>What is left of the text, cut where something was taken out or a sign parts it.</summary>
    public List<string> Texts { get; } = [];

    /// <summary>Everything that was taken as words about stock, for the note.</summary>
    public List<string> Remarks { get; } = [];

    /// <summary>Takes over what a further line of the same offer says; what was said first stays.</summary>
    public void Add(Facts more)
    {
        Prices.AddRange(more.Prices);
        OldPrices.AddRange(more.OldPrices);
        PercentBreaks.AddRange(more.PercentBreaks);
        Charges.AddRange(more.Charges);
        Pack ??= more.Pack;
        Lot ??= more.Lot;
        if (Minimum is null)
            (Minimum, MinimumInPacks) = (more.Minimum, more.MinimumInPacks);
        if (Available is null)
            (Available, AvailableInPacks) = (more.Available, more.AvailableInPacks);
        SoldOut |= more.SoldOut;
        InStock |= more.InStock;
        Cocoon |= more.Cocoon;
        Pupa |= more.Pupa;
        FromPrice |= more.FromPrice;
        Unread.AddRange(more.Unread);
        Remarks.AddRange(more.Remarks);
    }
}
