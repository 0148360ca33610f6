using System.Globalization;
using System.Text;
using Lepidary.Science.Verification;

namespace Lepidary.App.Honesty;

/// <summary>
/// Lays a scorecard out as two small plates: how often it came, by the chance that was given, against the slope on which the two are equal; and the bars of the
/// randomised transform, which are level when forecasts are honest.
/// </summary>
internal sealed class CalibrationDrawing(Scorecard card)
{
    public const int Width = 460;
    public const int Height = 216;
    private const int Side = 170;
    private const int Left = 38;
    private const int Top = 16;
    private const int BarsLeft = 262;
    private const int Bars = 170;
    private static readonly int[] MarkedTenths = [0, 5, 10];

    /// <summary>The slope on which said and came are equal.</summary>
    public static string Slope => $"M{N(Left)} {N(Top + Side)}L{N(Left + Side)} {N(Top)}";

    /// <summary>Frame of the left plate.</summary>
    public static string Frame => $"M{N(Left)} {N(Top)}V{N(Top + Side)}H{N(Left + Side)}";

    /// <summary>Ground line of the bars.</summary>
    public static string Ground => $"M{N(BarsLeft)} {N(Top + Side)}h{N(Bars)}";

    public static IEnumerable<(string X, string Y, string Words, string Anchor)> Marks =>
        MarkedTenths.SelectMany(tenths => new[]
        {
            (N(Left - 6), N(Top + (Side * (1 - (tenths / 10.0))) + 4), Tenths(tenths), "end"),
            (N(Left + (Side * tenths / 10.0)), N(Top + Side + 16), Tenths(tenths), "middle"),
        });

    /// <summary>A dot for each group of chances, its area by how many there are.</summary>
    public IEnumerable<(string X, string Y, string Radius)> Dots =>
        card.Curve.Select(group => (N(Left + (Side * group.Said)), N(Top + (Side * (1 - group.Came))), N(Math.Clamp(1.5 + (7 * Math.Sqrt((double)group.Times / card.Forecasts)), 2, 9))));

    /// <summary>The bars of the transform; a bar of one tenth reaches the level line.</summary>
    public string Columns
    {
        get
        {
            var path = new StringBuilder();
            var wide = (double)Bars / card.Pit.Count;
            foreach (var (bar, index) in card.Pit.Select((bar, index) => (bar, index)))
            {
                var high = bar / Most * Side;
                path.Append(CultureInfo.InvariantCulture, $"M{N(BarsLeft + (index * wide) + 1)} {N(Top + Side)}v-{N(high)}h{N(wide - 2)}v{N(high)}z");
            }

            return path.ToString();
        }
    }

    /// <summary>Where honest bars end.</summary>
    public string Level => $"M{N(BarsLeft)} {N(Top + Side - (Side * 0.1 / Most))}h{N(Bars)}";

    public static string SaidX => N(Left + (Side / 2.0));

    public static string BarsX => N(BarsLeft + (Bars / 2.0));

    /// <summary>What the plates show, in a sentence.</summary>
    public string Words =>
        $"When a chance was given, it came: {string.Join("; ", card.Curve.Select(group => string.Create(CultureInfo.InvariantCulture, $"said {group.Said * 100:0} %, came {group.Came * 100:0} % of {group.Times}")))}.";

    private double Most => Math.Max(0.2, card.Pit.Max());

    private static string Tenths(int tenths) => tenths == 0 ? "0" : tenths == 10 ? "1" : "½";

    private static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
}
