using System.Text.Json.Serialization;

namespace Lepidary.Book;

/// <summary>A fact that brings lots into the house.</summary>
public abstract class LotSource : Fact
{
    /// <summary>The lots it brings. They hang from the day on which they say they do.</summary>
    public List<Lot> Lots { get; init; } = [];
}

/// <summary>A box taken in: the note against the count against the order.</summary>
public sealed class Delivery : LotSource
{
    /// <summary>Supplier.</summary>
    public Guid SupplierId { get; init; }

    /// <summary>The order it answers, or null.</summary>
    public Guid? OrderId { get; init; }

    /// <summary>Mark or number on the box or its note, or null: tells when one box is taken in twice.</summary>
    public string? BoxMark { get; init; }

    /// <summary>The day it was posted, as its label says; not after the day it came. Null where nobody knows.</summary>
    public DateOnly? PostedOn { get; init; }

    /// <summary>The supplier's note as typed or pasted, or null.</summary>
    public string? NoteText { get; init; }

    /// <summary>State of the box: torn, cold, wet. In words, or null.</summary>
    public string? Condition { get; init; }

    /// <summary>Lines.</summary>
    public List<DeliveryLine> Lines { get; init; } = [];
}

/// <summary>One taxon of a delivery: what was ordered, what the note says and what was in the box.</summary>
public sealed class DeliveryLine
{
    /// <summary>Key, made by the device.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>Delivery.</summary>
    [JsonIgnore]
    public Guid DeliveryId { get; init; }

    /// <summary>The order's line, or null.</summary>
    public Guid? OrderLineId { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Subspecies or form, or null.</summary>
    public string? Form { get; init; }

    /// <summary>Pupae ordered, or null for what nobody ordered.</summary>
    public int? Ordered { get; init; }

    /// <summary>Pupae on the supplier's note, or null where it has none.</summary>
    public int? Noted { get; init; }

    /// <summary>Pupae alive and fit to hang, of this taxon.</summary>
    public int Alive { get; init; }

    /// <summary>Pupae dead on arrival.</summary>
    public int Dead { get; init; }

    /// <summary>Pupae damaged.</summary>
    public int Damaged { get; init; }

    /// <summary>Emerged in the box.</summary>
    public int Emerged { get; init; }

    /// <summary>Pupae of another species sent under this name.</summary>
    public int WrongSpecies { get; init; }

    /// <summary>Of the living, those whose wings show through the case: they come out first, and are not claimed.</summary>
    public int ColouredUp { get; init; }

    /// <summary>Accepted binomial of what was ordered and this was sent in place of; or null.</summary>
    public string? SubstituteFor { get; init; }

    /// <summary>In words, or null.</summary>
    public string? Remark { get; init; }

    /// <summary>Price for one pupa on the supplier's note, in the supplier's currency; null where it says none.</summary>
    public decimal? NotedPrice { get; init; }

    /// <summary>The counts layer by layer, the top one first; empty where the box was counted as one.</summary>
    public List<BoxLayer> Layers { get; init; } = [];

    /// <summary>What is known of a line that was not counted whole; null where every pupa was.</summary>
    public LineEstimate? Estimate { get; init; }

    /// <summary>Everything in the box under this name.</summary>
    [JsonIgnore]
    public int Counted => Alive + Dead + Damaged + Emerged + WrongSpecies;
}

/// <summary>What one layer of a box held of one line. A count that was not made layer by layer is null.</summary>
public sealed class BoxLayer
{
    /// <summary>Alive and fit to hang.</summary>
    public int? Alive { get; set; }

    /// <summary>Dead on arrival.</summary>
    public int? Dead { get; set; }

    /// <summary>Damaged.</summary>
    public int? Damaged { get; set; }

    /// <summary>Emerged in the box.</summary>
    public int? Emerged { get; set; }

    /// <summary>Of another species.</summary>
    public int? WrongSpecies { get; set; }

    /// <summary>Of the living, those that have coloured up.</summary>
    public int? ColouredUp { get; set; }
}

/// <summary>How a line was judged without counting all of it.</summary>
public enum EstimateBy
{
    /// <summary>Some, taken by chance, were looked at.</summary>
    Part,

    /// <summary>Portions were counted and weighed, and the rest was weighed.</summary>
    Weight,
}

/// <summary>Exact 95 % limits of a line that was not counted whole.</summary>
public sealed class LineEstimate
{
    /// <summary>How.</summary>
    public EstimateBy By { get; set; }

    /// <summary>Pupae that were looked at, or that were in the portions.</summary>
    public int Counted { get; set; }

    /// <summary>Fewest: bad ones among all where a part was looked at, pupae in the box where it was weighed.</summary>
    public int From { get; set; }

    /// <summary>Most, of the same.</summary>
    public int To { get; set; }
}

/// <summary>Where lots that were in no box come from.</summary>
public enum HangingFrom
{
    /// <summary>They hung when the book was begun.</summary>
    Opening,

    /// <summary>A delivery taken in before and hung later.</summary>
    Delivery,

    /// <summary>Bred in the house.</summary>
    Brood,

    /// <summary>Another house or another lot.</summary>
    Transfer,
}

/// <summary>Lots hung that were in no box of that hour: found at the start of the book, bred here, moved here.</summary>
public sealed class Hanging : LotSource
{
    /// <summary>Where they come from.</summary>
    public HangingFrom From { get; init; }
}

/// <summary>The pupae of one offer in one delivery, or of one brood, that hang together: the unit of counting.</summary>
public sealed class Lot
{
    /// <summary>Key, made by the device.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>The fact that brought it.</summary>
    [JsonIgnore]
    public Guid SourceId { get; init; }

    /// <summary>The delivery's line, or null.</summary>
    public Guid? DeliveryLineId { get; init; }

    /// <summary>Supplier, or null for the house's own.</summary>
    public Guid? SupplierId { get; init; }

    /// <summary>Brood, or null.</summary>
    public Guid? BroodId { get; init; }

    /// <summary>The lot it was taken from, or null.</summary>
    public Guid? FromLotId { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Subspecies or form, or null.</summary>
    public string? Form { get; init; }

    /// <summary>Cage it was first hung in, or null; see <see cref="Move"/>.</summary>
    public Guid? CageId { get; init; }

    /// <summary>Row in the cage, as labelled; or null. A lot that needs several: the first and the last, <c>3-5</c>.</summary>
    public string? Row { get; init; }

    /// <summary>Place of its first pupa in the row, 1 the first; or null.</summary>
    public int? Position { get; init; }

    /// <summary>The house's local day on which it was hung.</summary>
    public DateOnly HungOn { get; init; }

    /// <summary>Pupae hung, at least 1, as first written down; see <see cref="Recount"/>.</summary>
    public int Received { get; init; }

    /// <summary>Landed cost of one pupa in the house's currency, or null where not known.</summary>
    public decimal? UnitLanded { get; init; }

    /// <summary>The keeper's own word on its emergence rate, 0…1; null for what the book has learnt.</summary>
    public double? EmergenceRate { get; init; }
}
