using System.Text.Json.Serialization;

namespace Lepidary.Book;

/// <summary>
/// What somebody saw or did: an immutable row. A correction is a new row that voids an old one; a voided row counts for nothing
/// ever after, whatever becomes of the row that voids it. Receiving a row twice changes nothing.
/// </summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Delivery), "delivery")]
[JsonDerivedType(typeof(Hanging), "hanging")]
[JsonDerivedType(typeof(Entry), "entry")]
[JsonDerivedType(typeof(Transfer), "transfer")]
[JsonDerivedType(typeof(Move), "move")]
[JsonDerivedType(typeof(Recount), "recount")]
[JsonDerivedType(typeof(Release), "release")]
[JsonDerivedType(typeof(FoundDead), "found-dead")]
[JsonDerivedType(typeof(MarkedAdult), "marked-adult")]
[JsonDerivedType(typeof(Walk), "walk")]
[JsonDerivedType(typeof(Reading), "reading")]
[JsonDerivedType(typeof(Photo), "photo")]
[JsonDerivedType(typeof(OrderStep), "order-step")]
[JsonDerivedType(typeof(ClaimStep), "claim-step")]
[JsonDerivedType(typeof(PackingStep), "packing-step")]
[JsonDerivedType(typeof(SettledName), "settled-name")]
[JsonDerivedType(typeof(SettledDiscrepancy), "settled-discrepancy")]
[JsonDerivedType(typeof(LearntOfList), "learnt-of-list")]
[JsonDerivedType(typeof(Voiding), "voiding")]
public abstract class Fact
{
    /// <summary>Key, UUIDv7, made by the device that saw it.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>House.</summary>
    public Guid HouseId { get; init; }

    /// <summary>The house's local day that it is about.</summary>
    public DateOnly OnDay { get; init; }

    /// <summary>The device's clock when it was written; may be wrong.</summary>
    public DateTimeOffset DeviceTime { get; init; }

    /// <summary>The server's clock when it came in. Set by <see cref="FactInbox"/>.</summary>
    [JsonIgnore]
    public DateTimeOffset ReceivedAt { get; internal set; }

    /// <summary>
    /// 1, 2, 3… in the order in which facts came into the book. Who has read up to a number has read everything below it, so that
    /// another process or a device can ask for what is new. Set by <see cref="FactInbox"/>.
    /// </summary>
    [JsonIgnore]
    public long Arrival { get; internal set; }

    /// <summary>Who saw or did it.</summary>
    public string Who { get; init; } = "";

    /// <summary>Device, or null when written at the server.</summary>
    public string? DeviceId { get; init; }

    /// <summary>1, 2, 3… on that device: a gap is a row still on its way. Null when written at the server.</summary>
    public long? DeviceSequence { get; init; }

    /// <summary>The fact that this one voids, which may come in later than this one; or null.</summary>
    public Guid? VoidsId { get; init; }

    /// <summary>In the keeper's words, or null.</summary>
    public string? Note { get; init; }
}

/// <summary>Takes a fact back and puts nothing in its place.</summary>
public sealed class Voiding : Fact;

/// <summary>A fact about one lot.</summary>
public abstract class LotFact : Fact
{
    /// <summary>The lot, which may come in later than this.</summary>
    public Guid LotId { get; init; }
}

/// <summary>One count on one lot in a round. All counts at least 0; each pupa is counted once in its life.</summary>
public sealed class Entry : LotFact
{
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

    /// <summary>Pupae that are not there.</summary>
    public int Missing { get; init; }

    /// <summary>Emerged whole.</summary>
    [JsonIgnore]
    public int Emerged => EmergedMale + EmergedFemale + EmergedUnsexed;

    /// <summary>Pupae that this entry takes off the row.</summary>
    [JsonIgnore]
    public int Total => Emerged + Crippled + Dead + Parasitised + Missing;
}

/// <summary>Pupae of a lot that go elsewhere: to another house, or to a lot of their own.</summary>
public sealed class Transfer : LotFact
{
    /// <summary>Pupae, at least 1.</summary>
    public int Count { get; init; }

    /// <summary>Where to, in words.</summary>
    public string To { get; init; } = "";

    /// <summary>House that gets them, or null.</summary>
    public Guid? ToHouseId { get; init; }
}

/// <summary>A lot is hung in another place, whole.</summary>
public sealed class Move : LotFact
{
    /// <summary>Cage.</summary>
    public Guid? CageId { get; init; }

    /// <summary>Row in the cage, as labelled; or null.</summary>
    public string? Row { get; init; }

    /// <summary>Place of its first pupa in the row, 1 the first; or null.</summary>
    public int? Position { get; init; }
}

/// <summary>The number received was miscounted. Differences add up, so that it does not matter which came in first.</summary>
public sealed class Recount : LotFact
{
    /// <summary>Pupae more (above 0) or fewer (below 0) than was written down.</summary>
    public int Difference { get; init; }
}

/// <summary>Adults put into a flight area, or into a cage for pairs.</summary>
public sealed class Release : Fact
{
    /// <summary>
    /// The lot they emerged from; null for adults of no lot, such as those that flew when the book was begun. Only a release with
    /// its lot empties the cage.
    /// </summary>
    public Guid? LotId { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Flight area, or null.</summary>
    public Guid? AreaId { get; init; }

    /// <summary>Cage for pairs, or null.</summary>
    public Guid? CageId { get; init; }

    /// <summary>Males.</summary>
    public int Male { get; init; }

    /// <summary>Females.</summary>
    public int Female { get; init; }

    /// <summary>Sex not told.</summary>
    public int Unsexed { get; init; }

    /// <summary>In all.</summary>
    [JsonIgnore]
    public int Total => Male + Female + Unsexed;
}

/// <summary>Sex of an adult, where it was told.</summary>
public enum AdultSex
{
    /// <summary>Male.</summary>
    Male,

    /// <summary>Female.</summary>
    Female,
}

/// <summary>Adults found dead: in a flight area, or in the cage before they were let go.</summary>
public sealed class FoundDead : Fact
{
    /// <summary>The lot in whose cage they died before they were let go; null for adults that flew.</summary>
    public Guid? LotId { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Flight area, or null.</summary>
    public Guid? AreaId { get; init; }

    /// <summary>Adults, at least 1.</summary>
    public int Count { get; init; }

    /// <summary>Sex of all of them, or null where it was not told.</summary>
    public AdultSex? Sex { get; init; }
}

/// <summary>A marked adult that was seen: where its mark is new it was marked on that day, later it was met again.</summary>
public sealed class MarkedAdult : Fact
{
    /// <summary>No wing takes more.</summary>
    public const int LongestMark = 12;

    /// <summary>What is written on the wing, as <c>A17</c>; one species never bears the same mark twice at a time.</summary>
    public required string Mark { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Sex, or null where it was not told.</summary>
    public AdultSex? Sex { get; init; }

    /// <summary>Flight area, or null.</summary>
    public Guid? AreaId { get; init; }
}

/// <summary>A count of flying adults along a fixed path.</summary>
public sealed class Walk : Fact
{
    /// <summary>The path's name.</summary>
    public required string Path { get; init; }

    /// <summary>Flight area, or null.</summary>
    public Guid? AreaId { get; init; }

    /// <summary>Local time of the first step.</summary>
    public TimeOnly Start { get; init; }

    /// <summary>How long it took.</summary>
    public int Minutes { get; init; }

    /// <summary>Sun, cloud, rain on the glass: in words, or null.</summary>
    public string? Weather { get; init; }

    /// <summary>Air in the shade at the start, degrees Celsius; or null.</summary>
    public double? TemperatureC { get; init; }

    /// <summary>Share of the walk in sun, percent, 0…100; or null.</summary>
    public int? SunPercent { get; init; }

    /// <summary>Wind by the Beaufort scale, 0…12; in a house 0 unless vents and fans blow. Or null.</summary>
    public int? Beaufort { get; init; }

    /// <summary>Sections into which the path is divided; null for one.</summary>
    public int? Sections { get; init; }

    /// <summary>What was seen, one row a taxon and section.</summary>
    public List<WalkCount> Counts { get; init; } = [];

    /// <summary>What it met in all of its sections.</summary>
    public IEnumerable<(string Taxon, int Count)> Sums() => Counts.GroupBy(count => count.Taxon).Select(taxon => (taxon.Key, taxon.Sum(count => count.Count)));
}

/// <summary>Adults of one taxon seen on a walk.</summary>
public sealed class WalkCount
{
    /// <summary>Key.</summary>
    public Guid Id { get; init; } = BookId.New();

    /// <summary>Walk.</summary>
    [JsonIgnore]
    public Guid WalkId { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Section of the path, 1 the first; null where the walk has none.</summary>
    public int? Section { get; init; }

    /// <summary>Adults seen, at least 0.</summary>
    public int Count { get; init; }
}

/// <summary>Climate of a cage or an area, once.</summary>
public sealed class Reading : Fact
{
    /// <summary>Cage, or null.</summary>
    public Guid? CageId { get; init; }

    /// <summary>Flight area, or null.</summary>
    public Guid? AreaId { get; init; }

    /// <summary>Degrees Celsius, or null.</summary>
    public double? TemperatureC { get; init; }

    /// <summary>Relative humidity in percent, 0…100, or null.</summary>
    public double? HumidityPercent { get; init; }
}

/// <summary>What became of an order.</summary>
public enum OrderState
{
    /// <summary>Written, not sent.</summary>
    Drafted,

    /// <summary>Sent to the supplier.</summary>
    Sent,

    /// <summary>The supplier will post it.</summary>
    Confirmed,

    /// <summary>The supplier will not post it.</summary>
    Refused,

    /// <summary>The keeper gave it up.</summary>
    Withdrawn,
}

/// <summary>An order's step onwards.</summary>
public sealed class OrderStep : Fact
{
    /// <summary>Order.</summary>
    public Guid OrderId { get; init; }

    /// <summary>State it came to.</summary>
    public OrderState State { get; init; }
}

/// <summary>What became of a claim.</summary>
public enum ClaimState
{
    /// <summary>Sent to the supplier.</summary>
    Sent,

    /// <summary>Credited, in money or pupae.</summary>
    Credited,

    /// <summary>The supplier will not credit it.</summary>
    Refused,

    /// <summary>The supplier has answered and not yet credited or refused it.</summary>
    Answered,
}

/// <summary>A claim's step onwards. The claim itself is reckoned from the delivery (see <see cref="Claim"/>).</summary>
public sealed class ClaimStep : Fact
{
    /// <summary>Delivery that the claim is about.</summary>
    public Guid DeliveryId { get; init; }

    /// <summary>State it came to.</summary>
    public ClaimState State { get; init; }

    /// <summary>Money asked for or credited, in the supplier's currency; or null.</summary>
    public decimal? Amount { get; init; }
}

/// <summary>What became of a box's packing. What it must be is for the house's licence to say.</summary>
public enum PackingState
{
    /// <summary>Kept open, or used again.</summary>
    Kept,

    /// <summary>Sealed in a bag until it is destroyed.</summary>
    Sealed,

    /// <summary>Destroyed.</summary>
    Destroyed,
}

/// <summary>A step in what becomes of a box's packing, frass and dead pupae.</summary>
public sealed class PackingStep : Fact
{
    /// <summary>The delivery.</summary>
    public Guid DeliveryId { get; init; }

    /// <summary>State it came to.</summary>
    public PackingState State { get; init; }
}

/// <summary>What a printed name means, settled once by the keeper for all lists to come.</summary>
public sealed class SettledName : Fact
{
    /// <summary>The printed text as the reader of lists folds it for comparing.</summary>
    public required string TextKey { get; init; }

    /// <summary>Accepted binomial.</summary>
    public required string Taxon { get; init; }

    /// <summary>Subspecies or form, or null.</summary>
    public string? Form { get; init; }

    /// <summary>The supplier on whose list it was settled, or null.</summary>
    public Guid? SupplierId { get; init; }
}

/// <summary>What something learnt of a supplier's lists is about.</summary>
public enum LearntMatter
{
    /// <summary>What a column holds.</summary>
    Column,

    /// <summary>The currency of lists that do not say it.</summary>
    Currency,

    /// <summary>Whether prices are without tax on lists that do not say it.</summary>
    Tax,

    /// <summary>Whether a price beside a pack is for the pack.</summary>
    PriceUnit,

    /// <summary>What one line offers.</summary>
    Line,
}

/// <summary>What one supplier's lists mean, said by the keeper once for all lists to come.</summary>
public sealed class LearntOfList : Fact
{
    /// <summary>Supplier.</summary>
    public Guid SupplierId { get; init; }

    /// <summary>What it is about.</summary>
    public LearntMatter Matter { get; init; }

    /// <summary>For a column: its title as the reader of lists folds it, or <c>#3</c> for the third where it has none; for a line: its text, folded; else empty.</summary>
    public string ColumnKey { get; init; } = "";

    /// <summary>A role of a column as the reader of lists names it, an ISO 4217 code, <c>excluded</c> or <c>included</c>, <c>pack</c> or <c>one</c>, or what a line offers as the reader of lists writes it down.</summary>
    public required string Meaning { get; init; }
}

/// <summary>The keeper has looked at a discrepancy and leaves it as it is. Should it grow, it shows again.</summary>
public sealed class SettledDiscrepancy : Fact
{
    /// <summary>What the discrepancy is about: see <see cref="Discrepancy.SubjectId"/>.</summary>
    public Guid SubjectId { get; init; }

    /// <summary>Animals by which it did not balance when it was settled; 0 where it is not about a number.</summary>
    public int Excess { get; init; }
}
