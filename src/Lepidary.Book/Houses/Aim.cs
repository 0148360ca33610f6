namespace Lepidary.Book;

/// <summary>What an aim asks for.</summary>
public enum AimKind
{
    /// <summary>At least so many flying of a taxon, a tag or in all.</summary>
    Display,

    /// <summary>At least so many species flying.</summary>
    Variety,

    /// <summary>At least so many males and females that meet.</summary>
    Breeding,
}

/// <summary>What the keeper wants, how sure, and when.</summary>
public sealed class Aim
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>Display, variety or breeding.</summary>
    public AimKind Kind { get; set; }

    /// <summary>An accepted binomial, <c>tag:</c> and a tag, or <c>all</c>.</summary>
    public string Selector { get; set; } = "all";

    /// <summary>Adults (display), species (variety) or pairs (breeding), at least 1.</summary>
    public int AtLeast { get; set; }

    /// <summary>The chance wanted, above 0 and below 1.</summary>
    public double Sure { get; set; }

    /// <summary>Weight against the other aims, 1…5; 1 is the usual.</summary>
    public int Importance { get; set; } = 1;

    /// <summary>First day it is for; null for from now on.</summary>
    public DateOnly? From { get; set; }

    /// <summary>Last day it is for; null for always.</summary>
    public DateOnly? To { get; set; }

    /// <summary>Days of the week it is for; null for every open day.</summary>
    public Weekdays? Days { get; set; }

    /// <summary>True when only pupae of the next order count: founders from outside, for a line bred here for long (breeding).</summary>
    public bool NewBlood { get; set; }

    /// <summary>The day the keeper gave it up; null while it stands.</summary>
    public DateOnly? EndedOn { get; set; }
}
