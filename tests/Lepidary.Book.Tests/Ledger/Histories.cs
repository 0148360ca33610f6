using CsCheck;

namespace Lepidary.Book.Tests.Ledger;

/// <summary>Random facts about a few lots: counts that fit and that do not, corrections, takings-back, and rows voided more than once.</summary>
internal static class Histories
{
    internal static readonly DateOnly FirstDay = new(2026, 10, 1);

    internal static readonly Guid House = Guid.Parse("01990000-0000-7000-8000-0000000000aa");

    internal static readonly Lot[] Lots =
    [
        MakeLot(1, "Morpho helenor", 12, 0), MakeLot(2, "Idea leuconoe", 5, 3), MakeLot(3, "Heliconius melpomene", 30, 10),
    ];

    private static readonly Gen<(int Kind, int Lot, int Day, int A, int B, int C, int Voids)> Step =
        Gen.Select(Gen.Int[0, 9], Gen.Int[0, 2], Gen.Int[-1, 25], Gen.Int[0, 4], Gen.Int[0, 3], Gen.Int[-3, 3], Gen.Int[0, 60]);

    /// <summary>Up to 40 facts; their keys are their places in the list, so that the same seed makes the same facts.</summary>
    internal static Gen<Fact[]> Facts { get; } = Step.Array[0, 40].Select(steps => steps.Select((step, index) => Make(step, index)).ToArray());

    internal static Guid Key(int number) => Guid.Parse($"01990000-0000-7000-8000-{number:x12}");

    private static Lot MakeLot(int number, string taxon, int received, int day) => new()
    {
        Id = Key(0x10_0000 + number),
        HouseId = House,
        Taxon = taxon,
        Received = received,
        HungOn = FirstDay.AddDays(day),
        Row = "A1",
    };

    private static Fact Make((int Kind, int Lot, int Day, int A, int B, int C, int Voids) step, int index)
    {
        var id = Key(index + 1);
        var lot = Lots[step.Lot];
        var day = FirstDay.AddDays(step.Day);
        var time = new DateTimeOffset(day, new TimeOnly(9, index), TimeSpan.Zero);

        // A third of the facts void one of the others, which may come later, or not at all.
        Guid? voids = step.Voids < 20 && step.Voids != index ? Key(step.Voids + 1) : null;
        return step.Kind switch
        {
            0 => new Transfer { Id = id, HouseId = House, OnDay = day, DeviceTime = time, VoidsId = voids, LotId = lot.Id, Count = step.A },
            1 => new Recount { Id = id, HouseId = House, OnDay = day, DeviceTime = time, VoidsId = voids, LotId = lot.Id, Difference = step.C },
            2 => new Release { Id = id, HouseId = House, OnDay = day, DeviceTime = time, VoidsId = voids, LotId = lot.Id, Taxon = lot.Taxon, Male = step.A, Female = step.B },
            3 => new FoundDead { Id = id, HouseId = House, OnDay = day, DeviceTime = time, VoidsId = voids, LotId = step.A > 2 ? lot.Id : null, Taxon = lot.Taxon, Count = step.B },
            4 => new Move { Id = id, HouseId = House, OnDay = day, DeviceTime = time, VoidsId = voids, LotId = lot.Id, Row = $"B{step.A}" },
            5 => new Voiding { Id = id, HouseId = House, OnDay = day, DeviceTime = time, VoidsId = voids ?? Key(999) },
            _ => new Entry
            {
                Id = id,
                HouseId = House,
                OnDay = day,
                DeviceTime = time,
                VoidsId = voids,
                LotId = lot.Id,
                EmergedMale = step.A,
                EmergedFemale = step.B,
                EmergedUnsexed = step.Kind == 6 ? 1 : 0,
                Crippled = step.Kind == 7 ? 1 : 0,
                Dead = step.Kind == 8 ? 2 : 0,
                Parasitised = step.Kind == 9 ? 1 : 0,
                Missing = step.C > 2 ? 1 : 0,
            },
        };
    }
}
