namespace Lepidary.Book;

/// <summary>
/// Where the pupae of one lot are at the end of a day. Always
/// <c>Received + Excess = Hanging + Emerged + Crippled + Dead + Parasitised + Missing + Transferred</c>, and one of
/// <see cref="Hanging"/> and <see cref="Excess"/> is 0.
/// </summary>
public sealed record LotBalance
{
    /// <summary>The lot.</summary>
    public required Lot Lot { get; init; }

    /// <summary>Cage it hangs in, or null where not known.</summary>
    public Guid? CageId { get; init; }

    /// <summary>Row in the cage, as labelled; or null.</summary>
    public string? Row { get; init; }

    /// <summary>Place of its first pupa in the row, 1 the first; or null.</summary>
    public int? Position { get; init; }

    /// <summary>Pupae received: as first written down, with every recount. 0 on a day before the lot was hung.</summary>
    public int Received { get; init; }

    /// <summary>Males emerged whole.</summary>
    public int EmergedMale { get; init; }

    /// <summary>Females emerged whole.</summary>
    public int EmergedFemale { get; init; }

    /// <summary>Emerged whole, sex not told.</summary>
    public int EmergedUnsexed { get; init; }

    /// <summary>Emerged, but not fit to fly.</summary>
    public int Crippled { get; init; }

    /// <summary>Pupae dead.</summary>
    public int Dead { get; init; }

    /// <summary>Pupae from which parasitoids came.</summary>
    public int Parasitised { get; init; }

    /// <summary>Pupae that were not there.</summary>
    public int Missing { get; init; }

    /// <summary>Pupae that went elsewhere.</summary>
    public int Transferred { get; init; }

    /// <summary>Adults of the lot put into a flight area or a cage for pairs.</summary>
    public int Released { get; init; }

    /// <summary>Adults of the lot that died before they were let go.</summary>
    public int DiedInCage { get; init; }

    /// <summary>Emerged whole.</summary>
    public int Emerged => EmergedMale + EmergedFemale + EmergedUnsexed;

    /// <summary>Pupae of which it is known what became.</summary>
    public int Accounted => Emerged + Crippled + Dead + Parasitised + Missing + Transferred;

    /// <summary>Pupae that still hang; at least 0.</summary>
    public int Hanging => Math.Max(0, Received - Accounted);

    /// <summary>Pupae counted beyond those received; above 0 it is a discrepancy.</summary>
    public int Excess => Math.Max(0, Accounted - Received);

    /// <summary>Adults in the cage to let go; at least 0.</summary>
    public int ToRelease => Math.Max(0, Emerged - Released - DiedInCage);

    /// <summary>Adults let go beyond those that emerged; above 0 it is a discrepancy.</summary>
    public int ReleasedExcess => Math.Max(0, Released + DiedInCage - Emerged);

    /// <summary>True when nothing of the lot is left to look after and everything adds up.</summary>
    public bool IsClosed => Received == Accounted && Emerged == Released + DiedInCage;
}
