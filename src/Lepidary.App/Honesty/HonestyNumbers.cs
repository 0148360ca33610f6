using System.Globalization;
using Lepidary.Science.Verification;

namespace Lepidary.App.Honesty;

/// <summary>The scores of a kind as they stand in a table: covered (promised) at three levels, and the losses.</summary>
internal sealed record HonestyNumbers(string Fifty, string Eighty, string NinetyFive, string Crps, string RivalCrps, string Brier, string RivalBrier)
{
    public static HonestyNumbers Of(KindScore score) => score.Card is not { } card
        ? new("", "", "", "", "", "", "")
        : new(Covered(card, 0), Covered(card, 1), Covered(card, 2), Loss(card.Crps), Loss(card.RivalCrps), Loss(card.Brier), Loss(card.RivalBrier));

    private static string Covered(Scorecard card, int level) =>
        card.Coverage.Count == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{card.Coverage[level].Covered * 100:0} ({card.Coverage[level].Promised * 100:0})");

    private static string Loss(double loss) => loss.ToString("0.000", CultureInfo.InvariantCulture);
}
