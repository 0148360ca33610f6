namespace Lepidary.Science.Hanging;

/// <summary>Sex of the pupae of a lot, where it is known.</summary>
public enum LotSex
{
    /// <summary>Mixed, or not known.</summary>
    Mixed,

    /// <summary>Males alone.</summary>
    Male,

    /// <summary>Females alone.</summary>
    Female,
}

/// <summary>A lot to hang.</summary>
/// <param name="Key">Its key; one lot a key.</param>
/// <param name="Taxon">Species.</param>
/// <param name="Pupae">How many, at least 1.</param>
/// <param name="PitchMm">Room that one takes along a row, mm, above 0: see <see cref="HangingPlan.PitchMm"/>.</param>
/// <param name="FirstOut">When its first adult is expected, any day count; early lots hang in reach.</param>
/// <param name="Sex">Sex, for rows of the sexes of one species apart.</param>
/// <param name="Cage">Name of the cage in which it must stay, or null for any.</param>
public sealed record LotToHang(Guid Key, string Taxon, int Pupae, int PitchMm, int FirstOut, LotSex Sex = LotSex.Mixed, string? Cage = null);

/// <summary>A row that is taken.</summary>
/// <param name="Number">The row, 1 the nearest at hand.</param>
/// <param name="Taxon">Species that hangs in it.</param>
/// <param name="Sex">Its sex.</param>
public sealed record TakenRow(int Number, string Taxon, LotSex Sex = LotSex.Mixed);

/// <summary>A cage to hang in.</summary>
/// <param name="Name">Its name; one cage a name.</param>
/// <param name="Rows">Rows, 1 the nearest at hand.</param>
/// <param name="RowMm">Length of a row, mm.</param>
/// <param name="Reach">Rows from the first on that are reached without steps.</param>
/// <param name="Free">Pupae for which the cage has places left; below 0 it is over its places.</param>
/// <param name="Taken">Rows in which something hangs; the same row any number of times.</param>
public sealed record CageToHang(string Name, int Rows, int RowMm, int Reach, int Free, IReadOnlyList<TakenRow> Taken);

/// <summary>Some pupae of a lot in one row, side by side from the first place on.</summary>
/// <param name="Number">The row.</param>
/// <param name="Pupae">How many.</param>
public sealed record PlannedRow(int Number, int Pupae);

/// <summary>Where a lot is to hang.</summary>
/// <param name="Lot">The lot.</param>
/// <param name="Cage">Name of the cage.</param>
/// <param name="Rows">Its rows, the nearest first; none of them has another lot.</param>
/// <param name="InReach">True where all of them are reached without steps.</param>
/// <param name="BesideOtherSex">True where no place was left but beside the other sex of its species.</param>
public sealed record PlannedLot(LotToHang Lot, string Cage, IReadOnlyList<PlannedRow> Rows, bool InReach, bool BesideOtherSex);

/// <summary>A lot for which there is no room.</summary>
/// <param name="Lot">The lot.</param>
/// <param name="RowsNeeded">Rows that it needs in the cage that comes nearest to holding it; 0 where no cage may hold it.</param>
/// <param name="RowsFree">Rows that are free there.</param>
public sealed record NoRoom(LotToHang Lot, int RowsNeeded, int RowsFree);

/// <summary>
/// Where lots are to hang: one lot a row and so one species a row, each pupa with the room of its wings, early lots in reach, the sexes of a species
/// not in neighbouring rows, no cage over its places. The order in which lots and cages are told does not matter.
/// </summary>
/// <remarks>
/// Lots are placed one by one, the earliest first, each in the cage where its rows lie nearest at hand; where that leaves one out, the largest
/// first, and what places more pupae counts. That a row holds one species and one shipment, and the spacing, are common practice, no source.
/// </remarks>
public sealed record HangingPlan
{
    /// <summary>Room for a pupa of which the wingspan is not known, mm: that of a middling species.</summary>
    public const int UsualPitchMm = 60;

    /// <summary>Room beside the wings for the pupa itself, mm.</summary>
    private const int BodyMm = 10;

    /// <summary>Lots with a place.</summary>
    public required IReadOnlyList<PlannedLot> Placed { get; init; }

    /// <summary>Lots without one.</summary>
    public required IReadOnlyList<NoRoom> Left { get; init; }

    /// <summary>Room that a pupa takes along its row: a wing's length, which is half the span, and the body.</summary>
    /// <param name="wingspanMm">Wingspan, mm, above 0; null where not known.</param>
    /// <returns>Millimetres; for 70 mm 45, for 140 mm 80.</returns>
    /// <remarks>Common practice, no source: small species 3 to 4 cm, longwings 4 to 5, swallowtails and owls 6 to 8, birdwings 10 and more.</remarks>
    public static int PitchMm(int? wingspanMm)
    {
        if (wingspanMm is not { } span) return UsualPitchMm;
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(span);
        return (span + 1) / 2 + BodyMm;
    }

    /// <summary>Makes a plan.</summary>
    /// <param name="lots">Lots without a row.</param>
    /// <param name="cages">Cages to hang them in.</param>
    /// <exception cref="ArgumentException">Two lots of one key, two cages of one name, a lot of fewer than one pupa or without room.</exception>
    public static HangingPlan Of(IReadOnlyCollection<LotToHang> lots, IReadOnlyCollection<CageToHang> cages)
    {
        ArgumentNullException.ThrowIfNull(lots);
        ArgumentNullException.ThrowIfNull(cages);
        if (lots.Select(lot => lot.Key).Distinct().Count() < lots.Count) throw new ArgumentException("Two lots of one key.", nameof(lots));
        if (cages.Select(cage => cage.Name).Distinct(StringComparer.Ordinal).Count() < cages.Count) throw new ArgumentException("Two cages of one name.", nameof(cages));
        if (lots.Any(lot => lot.Pupae < 1 || lot.PitchMm < 1)) throw new ArgumentException("A lot without pupae or without room.", nameof(lots));
        List<CageToHang> inOrder = [.. cages.OrderBy(cage => cage.Name, StringComparer.Ordinal)];
        List<LotToHang> early = [.. lots.OrderBy(lot => lot.FirstOut).ThenBy(lot => lot.Taxon, StringComparer.Ordinal).ThenBy(lot => lot.Key)];
        var first = Place(early, inOrder);
        if (first.Left.Count == 0) return first;
        var second = Place([.. early.OrderByDescending(lot => (long)lot.Pupae * lot.PitchMm)], inOrder);
        return Sum(second) > Sum(first) ? second : first;
    }

    private static int Sum(HangingPlan plan) => plan.Placed.Sum(lot => lot.Lot.Pupae);

    private static HangingPlan Place(List<LotToHang> lots, List<CageToHang> cages)
    {
        var state = cages.ConvertAll(cage => new State(cage));
        var placed = new List<PlannedLot>();
        var left = new List<NoRoom>();
        foreach (var lot in lots)
        {
            var may = state.FindAll(cage => lot.Cage is null || lot.Cage == cage.Cage.Name);
            var best = may.Select(cage => cage.Try(lot)).OfType<Offer>()
                .OrderBy(offer => offer.Beside ? 1 : 0).ThenBy(offer => offer.OutOfReach).ThenBy(offer => offer.Rows[^1]).ThenBy(offer => offer.Rows.Count)
                .ThenBy(offer => offer.Cage.Cage.Name, StringComparer.Ordinal).FirstOrDefault();
            if (best is null)
            {
                var nearest = may.Where(cage => cage.RowsFor(lot) > 0).OrderBy(cage => cage.RowsFor(lot) - cage.FreeRows).ThenBy(cage => cage.Cage.Name, StringComparer.Ordinal).FirstOrDefault();
                left.Add(new(lot, nearest?.RowsFor(lot) ?? 0, nearest?.FreeRows ?? 0));
            }
            else
            {
                placed.Add(best.Cage.Take(lot, best));
            }
        }

        return new()
        {
            Placed = [.. placed.OrderBy(one => one.Cage, StringComparer.Ordinal).ThenBy(one => one.Rows[0].Number)],
            Left = [.. left.OrderBy(one => one.Lot.FirstOut).ThenBy(one => one.Lot.Taxon, StringComparer.Ordinal).ThenBy(one => one.Lot.Key)],
        };
    }

    private sealed record Offer(State Cage, IReadOnlyList<int> Rows, bool Beside, int OutOfReach);

    /// <summary>A cage as it fills.</summary>
    private sealed class State
    {
        private readonly List<TakenRow> taken;
        private int free;

        public State(CageToHang cage)
        {
            Cage = cage;
            taken = [.. cage.Taken];
            free = cage.Free;
        }

        public CageToHang Cage { get; }

        public int FreeRows => Enumerable.Range(1, Math.Max(0, Cage.Rows)).Count(IsFree);

        /// <summary>Rows that a lot needs here; 0 where one of its pupae is longer than a row.</summary>
        public int RowsFor(LotToHang lot) => Cage.RowMm / lot.PitchMm is > 0 and var perRow ? (lot.Pupae + perRow - 1) / perRow : 0;

        public Offer? Try(LotToHang lot)
        {
            var needed = RowsFor(lot);
            if (needed == 0 || lot.Pupae > free) return null;
            List<int> open = [.. Enumerable.Range(1, Math.Max(0, Cage.Rows)).Where(IsFree)];
            return Of(lot, open.FindAll(row => !IsBeside(lot, row)), needed, false) ?? Of(lot, open, needed, true);
        }

        public PlannedLot Take(LotToHang lot, Offer offer)
        {
            var perRow = Cage.RowMm / lot.PitchMm;
            taken.AddRange(offer.Rows.Select(row => new TakenRow(row, lot.Taxon, lot.Sex)));
            free -= lot.Pupae;
            var rows = offer.Rows.Select((row, at) => new PlannedRow(row, Math.Min(perRow, lot.Pupae - at * perRow))).ToList();
            return new(lot, Cage.Name, rows, offer.OutOfReach == 0, offer.Beside);
        }

        /// <summary>The first rows side by side that are enough, or else the first that are.</summary>
        private Offer? Of(LotToHang lot, List<int> open, int needed, bool beside)
        {
            if (open.Count < needed) return null;
            var from = Enumerable.Range(0, open.Count - needed + 1).FirstOrDefault(at => open[at + needed - 1] - open[at] == needed - 1, -1);
            var rows = open.GetRange(Math.Max(0, from), needed);
            return new(this, rows, beside && rows.Exists(row => IsBeside(lot, row)), rows.Count(row => row > Cage.Reach));
        }

        private bool IsFree(int row) => !taken.Exists(other => other.Number == row);

        private bool IsBeside(LotToHang lot, int row) =>
            lot.Sex != LotSex.Mixed && taken.Exists(other => Math.Abs(other.Number - row) == 1 && other.Taxon == lot.Taxon && other.Sex != LotSex.Mixed && other.Sex != lot.Sex);
    }
}
