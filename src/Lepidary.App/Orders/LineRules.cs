using System.Globalization;
using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>What the keeper settled about lines, as text: <c>OFFER=12</c> fixes, <c>OFFER=0</c> forbids, <c>OFFER>=5</c> and <c>OFFER&lt;=20</c> bound, <c>*=0</c> leaves out all else.</summary>
internal static class LineRules
{
    /// <summary>Every offer that no other rule speaks of is left out.</summary>
    public const string NothingElse = EveryOther + "=0";

    private const string EveryOther = "*";

    /// <summary>Puts a rule for each offer in the place of <see cref="NothingElse"/>.</summary>
    public static IReadOnlyList<LineRule> Spread(IReadOnlyList<LineRule> rules, IEnumerable<string> offers)
    {
        if (rules.All(rule => rule.Offer != EveryOther))
        {
            return rules;
        }

        var spoken = rules.Select(rule => rule.Offer).ToHashSet(StringComparer.Ordinal);
        return [.. rules.Where(rule => rule.Offer != EveryOther), .. offers.Where(offer => !spoken.Contains(offer)).Select(offer => new LineRule(offer, LineRuleKind.Forbidden))];
    }

    /// <summary>True for a rule that <see cref="Spread"/> made or will put others in the place of.</summary>
    public static bool IsNothingElse(LineRule rule) => rule is { Offer: EveryOther, Kind: LineRuleKind.Forbidden };

    public static List<LineRule> Read(IEnumerable<string> texts, List<Problem> problems)
    {
        var rules = new List<LineRule>();
        foreach (var text in texts)
        {
            if (Parse(text) is { } rule)
            {
                rules.Add(rule);
            }
            else
            {
                problems.Add(new("line rule", text, "OFFER=12 to fix, OFFER=0 to forbid, OFFER>=5 or OFFER<=20 to bound, *=0 for nothing else; OFFER as the proposal prints it"));
            }
        }

        return rules;
    }

    public static string Write(LineRule rule) => rule.Kind switch
    {
        LineRuleKind.Fixed => $"{rule.Offer}={rule.Pupae}",
        LineRuleKind.Forbidden => $"{rule.Offer}=0",
        LineRuleKind.AtLeast => $"{rule.Offer}>={rule.Pupae}",
        LineRuleKind.AtMost => $"{rule.Offer}<={rule.Pupae}",
        _ => throw new InvalidOperationException($"Line rule {rule.Kind}."),
    };

    private static LineRule? Parse(string text)
    {
        var equals = text.LastIndexOf('=');
        if (equals <= 0 || !int.TryParse(text[(equals + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var pupae))
        {
            return null;
        }

        var (offer, kind) = text[equals - 1] switch
        {
            '>' => (text[..(equals - 1)], LineRuleKind.AtLeast),
            '<' => (text[..(equals - 1)], LineRuleKind.AtMost),
            _ when text[..equals] == EveryOther && pupae > 0 => ("", LineRuleKind.Fixed),
            _ => (text[..equals], pupae == 0 ? LineRuleKind.Forbidden : LineRuleKind.Fixed),
        };
        return offer.Length == 0 ? null : new LineRule(offer, kind, pupae);
    }
}
