namespace Lepidary.Planning.Seasons;

/// <summary>What one season came to under one policy.</summary>
public sealed class SeasonScore
{
    /// <summary>Name of the policy.</summary>
    public required string Policy { get; init; }

    /// <summary>Landed cost of all orders, house currency.</summary>
    public double Landed { get; internal set; }

    /// <summary>Worth of all butterflies that were short, house currency.</summary>
    public double Shortage { get; internal set; }

    /// <summary>Landed cost and shortage.</summary>
    public double Total => Landed + Shortage;

    /// <summary>Boxes ordered.</summary>
    public int Deliveries { get; internal set; }

    /// <summary>Pupae ordered. Each is one of the five that follow.</summary>
    public int Pupae { get; internal set; }

    /// <summary>Of these: flew and died within the season.</summary>
    public int Flown { get; internal set; }

    /// <summary>Of these: fly on after the season.</summary>
    public int FlyOn { get; internal set; }

    /// <summary>Of these: emerge after the season.</summary>
    public int EmergeLater { get; internal set; }

    /// <summary>Of these: never emerge.</summary>
    public int NeverEmerge { get; internal set; }

    /// <summary>Of these: part of a mix of which nobody knows what it is.</summary>
    public int UnknownPupae { get; internal set; }

    /// <summary>Pupae that no visitor saw: never emerged, or flew on no scored open day of the season.</summary>
    public int Wasted { get; internal set; }

    /// <summary>Scored open days.</summary>
    public int OpenDays { get; internal set; }

    /// <summary>Scored open days on which at least one wish was not met.</summary>
    public int DaysShort { get; internal set; }

    /// <summary>Scored days, open or not, on which cages were over full or more flew than should.</summary>
    public int DaysOver { get; internal set; }

    /// <summary>Scored days, open or not, on which at least 19 of 20 hanging places were taken.</summary>
    public int DaysFull { get; internal set; }

    /// <summary>Butterflies flying, summed over the scored open days.</summary>
    public long ButterflyDays { get; internal set; }

    /// <summary>By wish for days.</summary>
    public List<AimScore> Aims { get; } = [];

    /// <summary>Wishes times days.</summary>
    public int WishDays => Aims.Sum(a => a.Days);

    /// <summary>Of these: not met.</summary>
    public int WishDaysShort => Aims.Sum(a => a.DaysShort);

    /// <summary>What was ordered, by week.</summary>
    public List<WeekOrdered> Ordered { get; } = [];

    /// <summary>Flying in all on each day of the season.</summary>
    public IReadOnlyList<int> Flying { get; internal set; } = [];
}

/// <summary>One wish over a season.</summary>
public sealed class AimScore
{
    /// <summary>Id of the aim.</summary>
    public required string Aim { get; init; }

    /// <summary>In the keeper's words.</summary>
    public required string Words { get; init; }

    /// <summary>Scored days that it counts on.</summary>
    public int Days { get; internal set; }

    /// <summary>Of these: not met.</summary>
    public int DaysShort { get; internal set; }

    /// <summary>Butterflies, or species, short: summed over these days.</summary>
    public int Short { get; internal set; }
}

/// <summary>What a policy ordered in one week.</summary>
/// <param name="Boxes">Boxes.</param>
/// <param name="Pupae">Pupae.</param>
/// <param name="Landed">Landed cost, house currency.</param>
/// <param name="Lines">The lines, as the policy gave them.</param>
public sealed record WeekOrdered(int Boxes, int Pupae, decimal Landed, IReadOnlyList<OrderedLine> Lines);
