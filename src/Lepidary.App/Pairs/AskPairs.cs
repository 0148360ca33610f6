namespace Lepidary.App.Pairs;
internal sealed record PairsAnswer(int Pupae, double Chance, string Sentence);
internal sealed record AskPairs(double Emergence, int? Pupae, double? Sure, int Pairs, double FemaleShare)
{
    public Checked<PairsAnswer> Answer() => new Problem("x", Emergence.ToString("0", null), "z");
}
