using Lepidary.Science.Emergence;
using Lepidary.Science.Flying;

namespace Lepidary.Science.Pairing;

/// <summary>When the adults of one sex emerge and how long they live. Males often come first (protandry).</summary>
/// <param name="Timing">Day of emergence since the pupae arrived.</param>
/// <param name="Survival">Life on the wing.</param>
public sealed record WingLife(EmergenceTiming Timing, AdultSurvival Survival);
