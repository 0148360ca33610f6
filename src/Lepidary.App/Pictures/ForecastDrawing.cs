using System.Globalization;
using System.Text;
using Lepidary.App.Words;

namespace Lepidary.App.Pictures;

/// <summary>One day of a forecast of how many fly, ready to be drawn.</summary>
/// <param name="Day">The day.</param>
/// <param name="IsOpen">Visitors come.</param>
/// <param name="Low">8 of 10 such days lie from here …</param>
/// <param name="Middle">… around this median …</param>
/// <param name="High">… to here.</param>
/// <param name="Without">The median without the order, or null where the picture compares nothing.</param>
public sealed record ForecastPoint(DateOnly Day, bool IsOpen, int Low, int Middle, int High, int? Without = null);

/// <summary>
/// Lays a forecast out as a step band: each day is a column of its own, because a day is counted once.
/// Every number of the picture also stands in the table beside it.
/// </summary>
internal sealed class ForecastDrawing
{
    /// <summary>Height of the picture, in its own units.</summary>
    public const int Height = 250;

    /// <summary>Days that a phone shows: more would be too narrow to tell apart.</summary>
    private const int NarrowDays = 14;
    private const int Left = 40;
    private const int Top = 14;
    private const int Bottom = 44;

    private readonly IReadOnlyList<ForecastPoint> points;
    private readonly double dayWidth;
    private readonly int top;

    /// <param name="points">The days.</param>
    /// <param name="aim">Number wanted, or null.</param>
    /// <param name="narrow">For a phone: fewer days, so that letters keep their size.</param>
    public ForecastDrawing(IReadOnlyList<ForecastPoint> points, int? aim, bool narrow = false)
    {
        this.points = narrow ? [.. points.Take(NarrowDays)] : points;
        points = this.points;
        Aim = aim;
        Width = narrow ? 400 : 720;
        dayWidth = (double)(Width - Left) / Math.Max(1, points.Count);
        var highest = Math.Max(aim ?? 0, points.Count == 0 ? 1 : points.Max(point => Math.Max(point.High, point.Without ?? 0)));
        Step = NiceStep(highest);
        top = Math.Max(Step, (highest + Step - 1) / Step * Step);
    }

    public int? Aim { get; }

    public int Width { get; }

    /// <summary>Distance between the horizontal lines.</summary>
    public int Step { get; }

    public IEnumerable<int> Lines => Enumerable.Range(0, (top / Step) + 1).Select(line => line * Step);

    public IEnumerable<(ForecastPoint Point, string X, string Word, string Number)> DayMarks =>
        points.Select((point, index) => (point, N(Left + ((index + 0.5) * dayWidth)), point.Day.ToString("ddd", CultureInfo.InvariantCulture)[..(points.Count > 28 ? 1 : 2)], point.Day.Day.ToString(CultureInfo.InvariantCulture)));

    /// <summary>The band that holds 8 of 10 days.</summary>
    public string Band => points.Count == 0 ? "" : Outline(point => point.High, point => point.Low);

    public string Middle => Steps(point => point.Middle);

    public string? Without => points.Count > 0 && points.All(point => point.Without is not null) ? Steps(point => point.Without!.Value) : null;

    public string Y(int count) => N(Top + ((Height - Top - Bottom) * (1 - ((double)count / top))));

    /// <summary>Where the days begin.</summary>
    public static string LeftEdge => N(Left);

    private string Steps(Func<ForecastPoint, int> value)
    {
        var path = new StringBuilder();
        for (var index = 0; index < points.Count; index++)
        {
            var y = Y(value(points[index]));
            path.Append(CultureInfo.InvariantCulture, $"{(index == 0 ? "M" : "L")}{N(Left + (index * dayWidth))} {y}H{N(Left + ((index + 1) * dayWidth))}");
        }

        return path.ToString();
    }

    private string Outline(Func<ForecastPoint, int> high, Func<ForecastPoint, int> low)
    {
        var path = new StringBuilder(Steps(high));
        for (var index = points.Count - 1; index >= 0; index--)
        {
            path.Append(CultureInfo.InvariantCulture, $"L{N(Left + ((index + 1) * dayWidth))} {Y(low(points[index]))}H{N(Left + (index * dayWidth))}");
        }

        return path.Append('Z').ToString();
    }

    private static int NiceStep(int highest)
    {
        var rough = Math.Max(1, highest / 4.0);
        var power = (int)Math.Pow(10, Math.Floor(Math.Log10(rough)));
        foreach (var factor in (int[])[1, 2, 5, 10])
        {
            if (factor * power >= rough)
            {
                return factor * power;
            }
        }

        return 10 * power;
    }

    private static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>The sentence that says what the picture shows.</summary>
    public static string Sentence(ForecastPoint point) =>
        $"{DayWords.Short(point.Day)}: most likely about {point.Middle}; on 8 of 10 such days between {point.Low} and {point.High}.";
}
