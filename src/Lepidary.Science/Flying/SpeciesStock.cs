using Lepidary.Science.Emergence;

namespace Lepidary.Science.Flying;

/// <summary>
/// Pupae of one species that hang together, or that are on their way; as they stand at the start of day 0, before that day's
/// round.
/// </summary>
/// <param name="Hanging">Pupae that hang (or will arrive) and have not emerged, whether alive or not; at least 0.</param>
/// <param name="DaysHanging">Days since arrival on day 0; none of them emerged on a day before. Negative: arrives in that many
/// days.</param>
/// <param name="Rate">Emergence rate of its kind before anything was seen of this lot.</param>
/// <param name="Timing">Timing of its kind, counted from arrival.</param>
/// <param name="RateSource">Lots with the same source and the same rate share the one unknown mean.</param>
/// <param name="Emerged">How many of the lot have emerged already: evidence on the lot and on its source.</param>
/// <param name="Lost">How many of the lot are known to have failed: dead, parasitised, crippled.</param>
public sealed record HangingLot(
    int Hanging,
    int DaysHanging,
    EmergenceRate Rate,
    EmergenceTiming Timing,
    string RateSource,
    int Emerged = 0,
    int Lost = 0);

/// <summary>Adults of one species and one age.</summary>
/// <param name="Count">How many there are at most, at least 0.</param>
/// <param name="DaysOnWing">Whole days since they emerged, at least 0.</param>
/// <param name="Alive">
/// The chance, 0…1, that each is still alive on day 0: 1 for adults seen flying that day; for adults released and not seen since, S of
/// their age. Independent from adult to adult.
/// </param>
public readonly record struct FlyingGroup(int Count, int DaysOnWing, double Alive = 1);

/// <summary>What a house has of one species, and how its adults live.</summary>
/// <param name="Survival">Life on the wing.</param>
/// <param name="Lots">What hangs and what is on its way.</param>
/// <param name="Flying">What flies.</param>
public sealed record SpeciesStock(
    AdultSurvival Survival,
    IReadOnlyList<HangingLot> Lots,
    IReadOnlyList<FlyingGroup> Flying);
