using System.Globalization;
using System.Text;
using Lepidary.App.Words;

namespace Lepidary.App.Weeks;

/// <summary>One supplier's lists, ready to be drawn.</summary>
/// <param name="Name">Supplier.</param>
/// <param name="Marks">Lists, oldest first, with the price in house money or null.</param>
public sealed record WeeksPanel(string Name, IReadOnlyList<(ListMark Mark, double? Price)> Marks);

/// <summary>
/// Lays lists out by their day: for each supplier the price where it was listed, and below it a square for each list, filled where the taxon was to be
/// had. All suppliers share one scale, so that heights compare.
/// </summary>
internal sealed class WeeksDrawing
{
    private const int PanelHeight = 104;
    private const int Head = 22;
    private const int PlotHeight = 54;
    private const int StripAt = 84;
    private const int Square = 7;
    private const int Left = 52;
    private const int DaysWide = 371;
    private const int DaysNarrow = 189;

    private readonly IReadOnlyList<WeeksPanel> panels;
    private readonly DateOnly first;
    private readonly DateOnly last;
    private readonly double low;
    private readonly double high;
    private readonly double step;

    public WeeksDrawing(IReadOnlyList<WeeksPanel> panels, bool narrow = false)
    {
        Width = narrow ? 400 : 720;
        var days = panels.SelectMany(panel => panel.Marks).Select(mark => mark.Mark.Day).Distinct().Order().ToList();
        last = days.Count == 0 ? default : days[^1];
        var since = last.DayNumber - (narrow ? DaysNarrow : DaysWide);
        this.panels = [.. panels.Select(panel => panel with { Marks = [.. panel.Marks.Where(mark => mark.Mark.Day.DayNumber >= since)] })];
        first = days.FirstOrDefault(day => day.DayNumber >= since, last);
        var prices = this.panels.SelectMany(panel => panel.Marks).Select(mark => mark.Price).OfType<double>().ToList();
        var (least, most) = prices.Count == 0 ? (0, 1) : (prices.Min(), prices.Max());
        step = Step(Math.Max(most - least, most / 10) / 2);
        low = Math.Floor((least / step) + 1e-9) * step;
        high = Math.Max(low + step, Math.Ceiling((most / step) - 1e-9) * step);
    }

    public int Width { get; }

    public int Height => (panels.Count * PanelHeight) + 20;

    public IEnumerable<(WeeksPanel Panel, int Index)> Panels => panels.Select((panel, index) => (panel, index));

    /// <summary>Where a panel's name stands.</summary>
    public static string NameY(int panel) => N((panel * PanelHeight) + 13);

    public static string LeftEdge => N(Left);

    /// <summary>Lines of the shared scale in a panel, with their price.</summary>
    public IEnumerable<(string Y, string Words)> Lines(int panel)
    {
        for (var price = low; price <= high + (step / 2); price += step)
        {
            yield return (Y(panel, price), price.ToString("0.00", CultureInfo.InvariantCulture));
        }
    }

    /// <summary>The line through the prices of one panel, broken where a list came without one.</summary>
    public string Prices(WeeksPanel panel, int index)
    {
        var path = new StringBuilder();
        var open = false;
        foreach (var (mark, price) in panel.Marks)
        {
            var listed = price is not null && mark.State is OnList.Listed;
            if (listed)
            {
                path.Append(CultureInfo.InvariantCulture, $"{(open ? "L" : "M")}{X(mark.Day)} {Y(index, price!.Value)}");
            }

            open = listed;
        }

        return path.ToString();
    }

    /// <summary>A dot for each price.</summary>
    public IEnumerable<(string X, string Y)> Dots(WeeksPanel panel, int index) =>
        panel.Marks.Where(mark => mark.Price is not null && mark.Mark.State is OnList.Listed).Select(mark => (X(mark.Mark.Day), Y(index, mark.Price!.Value)));

    /// <summary>The squares of one state in a panel.</summary>
    public string Squares(WeeksPanel panel, int index, OnList state)
    {
        var path = new StringBuilder();
        foreach (var (mark, _) in panel.Marks.Where(mark => mark.Mark.State == state))
        {
            path.Append(CultureInfo.InvariantCulture, $"M{N(At(mark.Day) - (Square / 2.0))} {N((index * PanelHeight) + StripAt)}h{Square}v{Square}h-{Square}z");
        }

        return path.ToString();
    }

    /// <summary>A short stroke for each list without it.</summary>
    public string Strokes(WeeksPanel panel, int index)
    {
        var path = new StringBuilder();
        foreach (var (mark, _) in panel.Marks.Where(mark => mark.Mark.State == OnList.Absent))
        {
            path.Append(CultureInfo.InvariantCulture, $"M{N(At(mark.Day) - 2)} {N((index * PanelHeight) + StripAt + (Square / 2.0))}h4");
        }

        return path.ToString();
    }

    /// <summary>The first day of each month, and its name.</summary>
    public IEnumerable<(string X, string Word)> Months
    {
        get
        {
            if (panels.Count == 0)
            {
                yield break;
            }

            for (var month = new DateOnly(first.Year, first.Month, 1); month <= last; month = month.AddMonths(1))
            {
                if (month >= first || month.AddMonths(1).AddDays(-12) > first)
                {
                    yield return (N(Math.Max(Left, At(month > first ? month : first) - (Square / 2.0))), month.ToString(month.Month == 1 ? "MMM yyyy" : "MMM", CultureInfo.GetCultureInfo("en-GB")));
                }
            }
        }
    }

    /// <summary>One row of squares for a table: <paramref name="marks"/> from left to right, of one state.</summary>
    public static string Strip(IReadOnlyList<ListMark> marks, OnList state)
    {
        var path = new StringBuilder();
        for (var at = 0; at < marks.Count; at++)
        {
            if (marks[at].State == state)
            {
                path.Append(CultureInfo.InvariantCulture, $"M{N((at * StripPitch) + 1)} {(state == OnList.Absent ? "7h5" : "4h6v6h-6z")}");
            }
        }

        return path.ToString();
    }

    /// <summary>Width of a list in <see cref="Strip"/>.</summary>
    public const int StripPitch = 9;

    private double At(DateOnly day) => Left + 8 + ((Width - Left - 16) * (last == first ? 1 : (double)(day.DayNumber - first.DayNumber) / (last.DayNumber - first.DayNumber)));

    private string X(DateOnly day) => N(At(day));

    private string Y(int panel, double price) => N((panel * PanelHeight) + Head + (PlotHeight * (1 - ((price - low) / (high - low)))));

    private static double Step(double rough)
    {
        foreach (var nice in (double[])[0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500])
        {
            if (nice >= rough)
            {
                return nice;
            }
        }

        return 1000;
    }

    private static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>What the picture shows, in a sentence.</summary>
    public static string Words(IReadOnlyList<WeeksPanel> panels) =>
        string.Join(" ", panels.Where(panel => panel.Marks.Count > 0).Select(panel =>
            $"{panel.Name}: {panel.Marks.Count(mark => mark.Mark.State == OnList.Listed)} of {panel.Marks.Count} lists from {DayWords.Short(panel.Marks[0].Mark.Day)} to {DayWords.Short(panel.Marks[^1].Mark.Day)}."));
}
