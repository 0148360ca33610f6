using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>What the independent checker found, in a sentence.</summary>
internal static class CheckWords
{
    public static string Of(PlanCheck check) => check switch
    {
        { Agrees: true } => $"Checked: {check.Figures} figures of cost, carriage, tax, limits and odds reckoned again by another arithmetic; all agree.",
        { Faults.Count: 1 } => $"Checked, and one thing is wrong: {check.Faults[0]}",
        _ => $"Checked, and {check.Faults.Count} things are wrong, the first: {check.Faults[0]}",
    };
}
