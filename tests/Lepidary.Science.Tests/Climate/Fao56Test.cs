using Lepidary.Science.Climate;

namespace Lepidary.Science.Tests.Climate;

public class Fao56Test
{
    /// <summary>FAO-56, Table 2.3, p. 215 (read): three printed decimals.</summary>
    [Theory]
    [InlineData(1, 0.657)]
    [InlineData(5, 0.872)]
    [InlineData(10, 1.228)]
    [InlineData(12, 1.403)]
    [InlineData(15, 1.705)]
    [InlineData(16, 1.818)]
    [InlineData(17, 1.938)]
    [InlineData(18, 2.064)]
    [InlineData(19, 2.197)]
    [InlineData(19.5, 2.267)]
    [InlineData(20, 2.338)]
    [InlineData(21, 2.487)]
    [InlineData(22, 2.644)]
    [InlineData(23, 2.809)]
    [InlineData(24, 2.984)]
    [InlineData(24.5, 3.075)]
    [InlineData(25, 3.168)]
    [InlineData(26, 3.361)]
    [InlineData(27, 3.565)]
    [InlineData(28, 3.780)]
    [InlineData(29, 4.006)]
    [InlineData(30, 4.243)]
    [InlineData(31, 4.493)]
    [InlineData(32, 4.755)]
    [InlineData(33, 5.030)]
    [InlineData(34, 5.319)]
    [InlineData(35, 5.623)]
    [InlineData(37, 6.275)]
    [InlineData(40, 7.376)]
    [InlineData(45, 9.582)]
    public void Saturation_equals_table(double celsius, double printed) => Close.To(printed, Fao56.Saturation(celsius), 5.5e-4);

    /// <summary>FAO-56, example 2, p. 32 (read): 1,800 m prints 81.8 and 0.054; more digits computed with R.</summary>
    [Fact]
    public void Pressure_example_2()
    {
        var pressure = Fao56.Pressure(1800);
        Close.To(81.8, pressure, 0.05);
        Close.To(81.75579641, pressure, 5e-9);
        Close.To(0.054, Fao56.PsychrometricConstant(pressure), 5e-4);
        Close.To(0.05436760, Fao56.PsychrometricConstant(pressure), 5e-9);
    }

    /// <summary>FAO-56, example 3, p. 36 (read): e° 3.075 and 1.705, es 2.39, e°(19.75) 2.30; more digits computed with R.</summary>
    [Fact]
    public void MeanSaturation_example_3()
    {
        Close.To(3.07464905, Fao56.Saturation(24.5), 5e-9);
        Close.To(1.70534623, Fao56.Saturation(15), 5e-9);
        Close.To(2.39, Fao56.MeanSaturation(24.5, 15), 5e-3);
        Close.To(2.38999764, Fao56.MeanSaturation(24.5, 15), 5e-9);
        Close.To(2.30233863, Fao56.Saturation(19.75), 5e-9);
    }

    /// <summary>FAO-56, example 4, p. 38 (read): pressure 87.9, vapour pressure 1.91; more digits computed with R.</summary>
    [Fact]
    public void WetBulbVapourPressure_example_4()
    {
        var pressure = Fao56.Pressure(1200);
        Close.To(87.89663392, pressure, 5e-9);
        var vapour = Fao56.WetBulbVapourPressure(25.6, 19.5, pressure, Ventilation.Ventilated);
        Close.To(1.91, vapour, 5e-3);
        Close.To(1.91193591, vapour, 5e-9);
    }

    /// <summary>
    /// FAO-56, examples 5 and 6, p. 39 (read): 1.70, by mean humidity 1.78, deficit 0.91; more digits computed with R. The example
    /// prints eq. 17 without its division by 2, but its result includes it.
    /// </summary>
    [Fact]
    public void VapourPressure_examples_5_and_6()
    {
        var vapour = Fao56.VapourPressure(18, 0.82, 25, 0.54);
        Close.To(1.70153556, vapour, 5e-9);
        Close.To(1.77880075, Fao56.VapourPressure(25, 18, 0.68), 5e-9);
        Close.To(0.91434790, Fao56.MeanSaturation(25, 18) - vapour, 5e-9);
    }

    /// <summary>The NCL manual prints e°(15) = 1.70535, e°(24.5) = 3.07465 (read); R's sirad es(25.1, 19.1) = 2.698918 (read).</summary>
    [Fact]
    public void Saturation_equals_other_programs()
    {
        Close.To(1.70535, Fao56.Saturation(15), 5e-6);
        Close.To(3.07465, Fao56.Saturation(24.5), 5e-6);
        Close.To(2.698918, Fao56.MeanSaturation(25.1, 19.1), 5e-7);
    }

    [Fact]
    public void DewPoint_inverts_Saturation()
    {
        Gen.Double[-30, 60].Holds(celsius => Close.To(celsius, Fao56.DewPoint(Fao56.Saturation(celsius)), 1e-10));
        // The vapour pressure of example 5; the exact inverse, computed with R. FAO's own rounded inverse (from memory) gives 14.9578.
        Close.To(14.9653, Fao56.DewPoint(1.70153556), 5e-5);
    }

    [Fact]
    public void Impossible_arguments_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Fao56.Saturation(-300));
        Assert.Throws<ArgumentOutOfRangeException>(() => Fao56.Saturation(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Fao56.DewPoint(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Fao56.WetBulbVapourPressure(20, 21, 100, Ventilation.Still));
        Assert.Throws<ArgumentOutOfRangeException>(() => Fao56.VapourPressure(18, 82, 25, 54));
    }
}
