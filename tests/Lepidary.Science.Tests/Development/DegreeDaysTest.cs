using Lepidary.Science.Development;

namespace Lepidary.Science.Tests.Development;

public class DegreeDaysTest
{
    /// <summary>
    /// Zalom et al. 1983, UC DANR Leaflet 21373, Table 7, °F, thresholds 55 and 90; read in R's degday package. The printed double triangle of 60/100/75 is 24.88, a misprint:
    /// the formula gives 27.125.
    /// </summary>
    [Theory]
    [InlineData(96, 110, 91, 35.00, 35.00, 35.00, 35.00)]
    [InlineData(91, 105, 96, 35.00, 35.00, 35.00, 35.00)]
    [InlineData(45, 54, 38, 0, 0, 0, 0)]
    [InlineData(38, 50, 45, 0, 0, 0, 0)]
    [InlineData(60, 80, 75, 15.00, 18.75, 15.00, 18.75)]
    [InlineData(75, 88, 60, 26.50, 22.75, 26.50, 22.75)]
    [InlineData(50, 82, 45, 11.39, 10.62, 11.85, 11.31)]
    [InlineData(45, 70, 50, 4.50, 5.06, 5.31, 5.70)]
    [InlineData(60, 100, 75, 23.75, 27.125, 22.82, 26.26)]
    [InlineData(75, 95, 60, 29.38, 25.76, 28.91, 25.30)]
    [InlineData(50, 101, 48, 19.56, 19.19, 18.95, 18.69)]
    [InlineData(48, 95, 50, 16.76, 17.13, 16.96, 17.23)]
    public void Zalom_table_7_published(double min, double max, double next, double triangle, double doubleTriangle, double sine, double doubleSine) =>
        Close.To(
            [triangle, doubleTriangle, sine, doubleSine],
            [
                DegreeDays.Triangle(min, max, 55, 90), DegreeDays.DoubleTriangle(min, max, next, 55, 90),
                DegreeDays.Sine(min, max, 55, 90), DegreeDays.DoubleSine(min, max, next, 55, 90),
            ],
            0.0052);

    /// <summary>More digits of the same table, computed with R 4.2.2.</summary>
    [Fact]
    public void Zalom_table_7_equals_R()
    {
        Close.To(11.390625, DegreeDays.Triangle(50, 82, 55, 90), 1e-12);
        Close.To(11.85264, DegreeDays.Sine(50, 82, 55, 90), 5.1e-6);
        Close.To(11.31232, DegreeDays.DoubleSine(50, 82, 45, 55, 90), 5.1e-6);
        Close.To(22.82004, DegreeDays.Sine(60, 100, 55, 90), 5.1e-6);
        Close.To(17.23236, DegreeDays.DoubleSine(48, 95, 50, 55, 90), 5.1e-6);
        Close.To([5.0625, 5.69935], [DegreeDays.DoubleTriangle(45, 70, 50, 55, 90), DegreeDays.DoubleSine(45, 70, 50, 55, 90)], 5.1e-6);
        Close.To([5.30872, 26.25566], [DegreeDays.Sine(45, 70, 55, 90), DegreeDays.DoubleSine(60, 100, 75, 55, 90)], 5.1e-6);
        Close.To([29.375, 28.91002, 25.29797], [DegreeDays.Triangle(75, 95, 55, 90), DegreeDays.Sine(75, 95, 55, 90), DegreeDays.DoubleSine(75, 95, 60, 55, 90)], 5.1e-6);
        Close.To(25.7589, DegreeDays.DoubleTriangle(75, 95, 60, 55, 90), 5.1e-5);
        Close.To([19.5588, 19.1898], [DegreeDays.Triangle(50, 101, 55, 90), DegreeDays.DoubleTriangle(50, 101, 48, 55, 90)], 5.1e-5);
        Close.To([18.95263, 18.68648], [DegreeDays.Sine(50, 101, 55, 90), DegreeDays.DoubleSine(50, 101, 48, 55, 90)], 5.1e-6);
        Close.To([16.7553, 17.1277], [DegreeDays.Triangle(48, 95, 55, 90), DegreeDays.DoubleTriangle(48, 95, 50, 55, 90)], 5.1e-5);
        Close.To(16.96472, DegreeDays.Sine(48, 95, 55, 90), 5.1e-6);
    }

    /// <summary>UC IPM's on-line output, Ojai 2016, °C, thresholds 12 and 33; read in TrenchR's tests: minimum, maximum, sine, triangle.</summary>
    [Theory]
    [InlineData(7.8, 19.4, 2.72, 2.36)]
    [InlineData(4.4, 22.2, 3.51, 2.92)]
    [InlineData(3.3, 18.9, 2.05, 1.53)]
    [InlineData(10.0, 21.7, 4.21, 4.02)]
    [InlineData(6.1, 15.0, 0.77, 0.51)]
    [InlineData(4.4, 14.4, 0.51, 0.29)]
    [InlineData(5.0, 15.0, 0.72, 0.45)]
    [InlineData(3.3, 16.7, 1.23, 0.82)]
    [InlineData(10.6, 34.4, 10.50, 10.50)]
    [InlineData(11.7, 33.9, 10.74, 10.78)]
    [InlineData(10.6, 38.9, 11.71, 12.17)]
    [InlineData(14.4, 39.4, 13.49, 14.08)]
    [InlineData(15.0, 37.2, 13.31, 13.70)]
    [InlineData(12.8, 35.6, 11.82, 12.05)]
    [InlineData(12.2, 33.9, 10.97, 11.03)]
    [InlineData(13.9, 33.9, 11.82, 11.88)]
    public void Ojai_published(double min, double max, double sine, double triangle) =>
        Close.To([sine, triangle], [DegreeDays.Sine(min, max, 12, 33), DegreeDays.Triangle(min, max, 12, 33)], 0.0052);

    /// <summary>The same output summed over the year (read): single sine 2095.87 and triangle 2026.74, double 2095.93 and 2026.77; more digits computed with R 4.2.2.</summary>
    [Fact]
    public void Ojai_year_published()
    {
        var days = Ojai2016.Days;
        Assert.Equal(366, days.Count);
        // After the last day comes none: its own lowest temperature stands for the next.
        var nights = days.Skip(1).Append(days[^1]).Select(day => day.Min).ToList();
        double Sum(Func<(double Min, double Max), double, double> ofDay) => days.Zip(nights, ofDay).Sum();
        Close.To([2095.87, 2026.74], [Sum((day, _) => DegreeDays.Sine(day.Min, day.Max, 12, 33)), Sum((day, _) => DegreeDays.Triangle(day.Min, day.Max, 12, 33))], 0.0052);
        Close.To([2095.93, 2026.77], [Sum((day, next) => DegreeDays.DoubleSine(day.Min, day.Max, next, 12, 33)), Sum((day, next) => DegreeDays.DoubleTriangle(day.Min, day.Max, next, 12, 33))], 0.0052);
        Close.To([2095.873, 2026.744], [Sum((day, _) => DegreeDays.Sine(day.Min, day.Max, 12, 33)), Sum((day, _) => DegreeDays.Triangle(day.Min, day.Max, 12, 33))], 5.1e-4);
    }

    /// <summary>TrenchR's help example prints 0.47 (read); more digits computed with R 4.2.2.</summary>
    [Fact]
    public void TrenchR_example()
    {
        Close.To(0.46805869, DegreeDays.Sine(7, 14, 12, 33), 5.1e-9);
        Close.To(0.28571429, DegreeDays.Triangle(7, 14, 12, 33), 5.1e-9);
    }

    /// <summary>McMaster and Wilhelm 1997, Agric. For. Meteorol. 87:291-300, Table 1, base 0 °C; read in R's degday package.</summary>
    [Theory]
    [InlineData(20, 10, 15, 15)]
    [InlineData(10, 1, 5.5, 5.5)]
    [InlineData(8, -2, 3, 4)]
    [InlineData(6, 0, 3, 3)]
    [InlineData(10, 5, 7.5, 7.5)]
    [InlineData(5, -5, 0, 2.5)]
    [InlineData(-2, -7, 0, 0)]
    [InlineData(-5, -10, 0, 0)]
    [InlineData(10, -2, 4, 5)]
    [InlineData(15, 2, 8.5, 8.5)]
    public void McMaster_table_1_published(double max, double min, double one, double two) =>
        Close.To([one, two], [DegreeDays.Average(min, max, 0), DegreeDays.AverageRaised(min, max, 0)], 1e-12);

    /// <summary>Michigan State note (Nugent), base 50 °F: averages 2.5 and 0 (read); sines computed with R 4.2.2.</summary>
    [Fact]
    public void Nugent_note()
    {
        Close.To(2.5, DegreeDays.Average(40, 65, 50), 1e-12);
        Close.To(5.3087195, DegreeDays.Sine(40, 65, 50), 5.1e-8);
        Close.To(0, DegreeDays.Average(35, 60, 50), 1e-12);
        Close.To(2.8087195, DegreeDays.Sine(35, 60, 50), 5.1e-8);
    }

    /// <summary>Computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(8, 24, 11.5, double.PositiveInfinity, 5.2111437, 4.8828125)]
    [InlineData(15, 38, 11.5, 33, 13.987397, 14.456522)]
    [InlineData(5, 38, 11.5, 33, 10.410954, 10.261364)]
    [InlineData(18, 32, 11.5, 33, 13.5, 13.5)]
    public void Extra_cases_equal_R(double min, double max, double lower, double upper, double sine, double triangle) =>
        Close.To([sine, triangle], [DegreeDays.Sine(min, max, lower, upper), DegreeDays.Triangle(min, max, lower, upper)], 5.1e-7);

    /// <summary>A second way: the area by small steps.</summary>
    [Fact]
    public void Sine_and_triangle_equal_their_areas()
    {
        const int Steps = 20_000;
        Gen.Select(Gen.Double[-5, 25], Gen.Double[0.1, 20], Gen.Double[0, 20], Gen.Double[0, 20]).Holds((min, range, lower, above) =>
        {
            var (sine, triangle) = (0.0, 0.0);
            for (var i = 0; i < Steps; i++)
            {
                var t = (i + 0.5) / Steps;
                double Counted(double celsius) => Math.Min(Math.Max(celsius, lower), lower + above) - lower;
                sine += Counted(min + range * (1 + Math.Sin(2 * Math.PI * t)) / 2) / Steps;
                triangle += Counted(min + range * (1 - Math.Abs(2 * t - 1))) / Steps;
            }
            Close.To(sine, DegreeDays.Sine(min, min + range, lower, lower + above), 1e-5);
            Close.To(triangle, DegreeDays.Triangle(min, min + range, lower, lower + above), 1e-5);
        }, times: 40);
    }

    /// <summary>By hand: 0 to 20 above 10: triangle (20-10)²/(2·20) = 2.5, sine 10/π.</summary>
    [Fact]
    public void Triangle_and_sine_by_hand()
    {
        Close.To(2.5, DegreeDays.Triangle(0, 20, 10), 1e-15);
        Close.To(10 / Math.PI, DegreeDays.Sine(0, 20, 10), 1e-14);
        Close.To(10, DegreeDays.Sine(20, 20, 10), 1e-15);
    }

    [Fact]
    public void Impossible_days_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => DegreeDays.Sine(20, 10, 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => DegreeDays.Sine(double.NaN, 10, 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => DegreeDays.Triangle(5, 10, 8, 7));
    }
}
