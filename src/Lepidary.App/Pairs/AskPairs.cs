using Lepidary.App.Words;

namespace Lepidary.App.Pairs;

/// <param name="Pupae">Pupae hung, as asked or as found.</param>
/// <param name="Chance">0…1.</param>
/// <param name="Sentence">Both in words.</param>
internal sealed record PairsAnswer(int Pupae, double Chance, string Sentence);

/// <summary>The keeper asks: so many pupae, what chance of so many pairs? Or: how many pupae for that chance?</summary>
internal sealed record AskPairs(double Emergence, int? Pupae, double? Sure, int Pairs, double FemaleShare)
{
    public Checked<PairsAnswer> Answer()
    {
        var problems = new List<Problem>();
        Share("--emergence", Emergence);
        Share("--female-share", FemaleShare);
        Whole("--pairs", Pairs, 1);
        if (Pupae is null == Sure is null)
        {
            problems.Add(new("command line", Pupae is null ? "neither --pupae nor --sure" : "both --pupae and --sure", "one of them"));
        }

        if (Pupae is { } hung)
        {
            Whole("--pupae", hung, 0);
        }

        if (Sure is { } wanted && !(wanted is > 0 and < 1))
        {
            problems.Add(new("--sure", Text(wanted), "more than 0 and less than 1: no number of pupae makes anything certain"));
        }

        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        if (Pupae is { } pupae)
        {
            return Answered(pupae, Science.Pairing.Pairs.Chance(pupae, Emergence, Pairs, FemaleShare));
        }

        var least = Science.Pairing.Pairs.Least(Sure!.Value, Emergence, Pairs, FemaleShare);
        return least.IsGood ? Answered(least.Value.Pupae, least.Value.Chance) : least.Problems.ToArray();

        void Share(string name, double value)
        {
            if (!(value is >= 0 and <= 1))
            {
                problems.Add(new(name, Text(value), "a share from 0 to 1"));
            }
        }

        void Whole(string name, int value, int from)
        {
            if (value < from || value > Science.Pairing.Pairs.MostPupae)
            {
                problems.Add(new(name, Text(value), $"a whole number from {from} to {Science.Pairing.Pairs.MostPupae}"));
            }
        }
    }

    private PairsAnswer Answered(int pupae, double chance) => new(
        pupae,
        chance,
        $"{pupae} pupae give {(Pairs == 1 ? "at least one male and one female" : $"at least {Pairs} males and {Pairs} females")} in {ChanceWords.Picture(chance)} boxes like this ({ChanceWords.Percent(chance)}).");

    private static string Text(IFormattable value) => value.ToString(null, System.Globalization.CultureInfo.InvariantCulture);
}
