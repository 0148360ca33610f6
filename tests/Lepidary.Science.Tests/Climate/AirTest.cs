using Lepidary.Science.Climate;

namespace Lepidary.Science.Tests.Climate;

public class AirTest
{
    /// <summary>A glasshouse at 28 °C and 80 %, and at 25 °C and 70 %. Computed with R 4.2.2.</summary>
    [Theory]
    [InlineData(28, 0.80, 3.02394429, 0.75598607, 24.22219)]
    [InlineData(25, 0.70, double.NaN, 0.95033332, 19.14568)]
    public void FromHumidity_equals_R(double celsius, double humidity, double vapour, double deficit, double dewPoint)
    {
        var air = Air.FromHumidity(celsius, humidity).Value;
        if (!double.IsNaN(vapour)) Close.To(vapour, air.VapourPressure, 5e-9);
        Close.To(deficit, air.Deficit, 5e-9);
        Close.To(dewPoint, air.DewPoint, 5e-6);
        Close.To(humidity, air.RelativeHumidity, 1e-14);
        if (celsius == 28) Close.To(3.77993036, Fao56.Saturation(celsius), 5e-9);
    }

    /// <summary>Dry 30 °C, wet 26 °C, ventilated, at sea level. Computed with R 4.2.2.</summary>
    [Fact]
    public void FromWetBulb_equals_R()
    {
        var air = Air.FromWetBulb(30, 26, Ventilation.Ventilated).Value;
        Close.To(3.09319743, air.VapourPressure, 5e-9);
        Close.To(0.7290007, air.RelativeHumidity, 5e-8);
    }

    [Fact]
    public void FromDewPoint_is_saturated_there()
    {
        var air = Air.FromDewPoint(27, 21).Value;
        Close.To(21, air.DewPoint, 1e-10);
        Close.To(1, Air.FromDewPoint(21, 21).Value.RelativeHumidity, 1e-14);
        Assert.Equal(0, Air.FromDewPoint(21, 21).Value.Deficit);
    }

    [Fact]
    public void Readings_that_cannot_be_true_are_problems_all_at_once()
    {
        Assert.Equal(2, Air.FromHumidity(300, 80).Problems.Count);
        Assert.Single(Air.FromHumidity(25, 0).Problems);
        Assert.Single(Air.FromHumidity(double.NaN, 0.5).Problems);
        Assert.Single(Air.FromDewPoint(20, 21).Problems);
        Assert.Single(Air.FromWetBulb(20, 21, Ventilation.Natural).Problems);
        Assert.Single(Air.FromWetBulb(40, 5, Ventilation.Still).Problems);
        Assert.Equal(3, Air.FromWetBulb(100, 100, Ventilation.Still, 90_000).Problems.Count);
    }
}
