using System.Globalization;
using System.Text;

namespace Lepidary.App.Seasons;

/// <summary>How many fly in all, day by day, under two ways of ordering: lines in a box.</summary>
internal sealed class SeasonDrawing
{
    public const int Height = 200;
    public const int Left = 40;
    private const int Top = 10, Foot = 24;

    private readonly double most;
    private readonly int days;

    public SeasonDrawing(IReadOnlyList<IReadOnlyList<double>> flying, bool narrow)
    {
        Width = narrow ? 360 : 720;
        days = flying.Select(f => f.Count).DefaultIfEmpty(2).Max();
        var top = Math.Max(10, flying.SelectMany(f => f).DefaultIfEmpty(0).Max());
        var step = Math.Pow(10, Math.Floor(Math.Log10(top)));
        step = top / step >= 5 ? step * 2 : top / step >= 2.5 ? step : step / 2;
        most = Math.Ceiling(top / step) * step;
        Lines = [.. Enumerable.Range(0, (int)Math.Round(most / step) + 1).Select(i => (int)Math.Round(i * step)).Distinct()];
        Paths = [.. flying.Select(Path)];
    }

    public int Width { get; }

    public IReadOnlyList<int> Lines { get; }

    public IReadOnlyList<string> Paths { get; }

    public string Y(double value) => Number(Top + ((Height - Top - Foot) * (1 - (value / most))));

    public string X(int day) => Number(Left + ((Width - Left - 8.0) * day / Math.Max(1, days - 1)));

    private string Path(IReadOnlyList<double> values)
    {
        var path = new StringBuilder();
        for (var day = 0; day < values.Count; day++)
        {
            path.Append(day == 0 ? 'M' : 'L').Append(X(day)).Append(' ').Append(Y(values[day]));
        }

        return path.ToString();
    }

    private static string Number(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);
}
