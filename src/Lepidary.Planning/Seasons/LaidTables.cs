using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Planning.Seasons;

/// <summary>
/// Tables that were laid before. Laying one takes longer than drawing a lot from it, and it hangs on nothing but its two curves, which never change: each is laid
/// once for all weeks, lots, draws and settings that share them, and is gone with them.
/// </summary>
internal static class LaidTables
{
    private static readonly ConditionalWeakTable<AdultSurvival, OfOneLife> all = [];

    /// <summary>The table of pupae that may have hung for some days without emerging.</summary>
    /// <param name="timing">Day of emergence, given that it emerges.</param>
    /// <param name="survival">Life on the wing.</param>
    /// <param name="daysHanging">Days since arrival on none of which they emerged, 0 … the timing's last day.</param>
    public static FateTable OfPupae(EmergenceTiming timing, AdultSurvival survival, int daysHanging = 0) =>
        all.GetOrCreateValue(survival).Hanging.GetOrCreateValue(timing).GetOrAdd(daysHanging, since => new(timing.GivenNotYet(since), survival));

    /// <summary>The table of adults that already fly.</summary>
    /// <param name="survival">Life on the wing.</param>
    /// <param name="daysOnWing">Age in whole days.</param>
    public static FateTable OfFlying(AdultSurvival survival, int daysOnWing) =>
        all.GetOrCreateValue(survival).Flying.GetOrAdd(daysOnWing, age => FateTable.OfFlying(survival, age));

    private sealed class OfOneLife
    {
        public ConditionalWeakTable<EmergenceTiming, ConcurrentDictionary<int, FateTable>> Hanging { get; } = [];

        public ConcurrentDictionary<int, FateTable> Flying { get; } = new();
    }
}
