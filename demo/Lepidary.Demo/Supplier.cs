namespace Lepidary.Demo;

/// <summary>An invented supplier and its terms; house.yaml repeats the terms.</summary>
/// <param name="Key">One letter in market.csv.</param>
/// <param name="Name">As the lists and house.yaml have it.</param>
/// <param name="File">File of its list.</param>
/// <param name="Rate">House currency for one of its own.</param>
/// <param name="Carriage">Cost by number of pupae from, ascending, in its currency.</param>
/// <param name="Charge">Per order, in its currency.</param>
internal sealed record Supplier(
    char Key, string Name, string File, string Currency, decimal Rate, (int From, decimal Cost)[] Carriage, decimal Charge)
{
    /// <summary>Tax due on goods, carriage and charges.</summary>
    public const decimal Tax = 0.20m;

    public static readonly Supplier Quillfeather = new(
        'Q', "Quillfeather Pupae", "quillfeather-pupae.csv", "EUR", 0.86m, [(1, 24m), (100, 38m)], 15m);

    public static readonly Supplier Brackenfold = new(
        'B', "Brackenfold Lepidoptera", "brackenfold-lepidoptera.xlsx", "GBP", 1m, [(1, 18.50m), (151, 32m)], 0m);

    public static readonly Supplier Kessom = new(
        'K', "Kessom Farm", "kessom-farm.txt", "EUR", 0.86m, [(1, 45m), (121, 70m)], 20m);

    public static readonly Supplier[] All = [Quillfeather, Brackenfold, Kessom];

    public decimal CarriageFor(int pupae) => Carriage.Last(tier => pupae >= tier.From).Cost;

    /// <summary>Landed cost of one pupa in the house's currency, carriage and charge shared out evenly.</summary>
    public decimal Landed(decimal price, int pupaeInOrder) =>
        decimal.Round(Rate * (1 + Tax) * (price + ((CarriageFor(pupaeInOrder) + Charge) / pupaeInOrder)), 4);
}
