namespace Lepidary.Science.Inspection;

/// <summary>Student's t with whole degrees of freedom, in closed form: Abramowitz and Stegun 1964, 26.7.3 and 26.7.4.</summary>
internal static class StudentT
{
    /// <summary>Chance that |T| is at most t.</summary>
    /// <param name="t">At least 0.</param>
    /// <param name="freedom">Degrees of freedom, at least 1.</param>
    public static double Within(double t, int freedom)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(freedom, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(t);
        var angle = Math.Atan(t / Math.Sqrt(freedom));
        var (sine, cosine) = (Math.Sin(angle), Math.Cos(angle));
        var isOdd = freedom % 2 == 1;
        var (term, sum) = (isOdd ? cosine : 1.0, 0.0);
        for (var power = isOdd ? 1 : 0; power <= freedom - 2; power += 2)
        {
            sum += term;
            term *= cosine * cosine * (power + 1) / (power + 2);
        }

        return isOdd ? 2 / Math.PI * (angle + sine * sum) : sine * sum;
    }

    /// <summary>The t that |T| does not exceed with a chance, to the last digits of a double.</summary>
    /// <param name="chance">Above 0, below 1.</param>
    /// <param name="freedom">Degrees of freedom, at least 1.</param>
    public static double TwoSided(double chance, int freedom)
    {
        var (low, high) = (0.0, 1.0);
        while (Within(high, freedom) < chance) (low, high) = (high, 2 * high);
        for (var middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2)
        {
            if (Within(middle, freedom) < chance) low = middle;
            else high = middle;
        }

        return high;
    }
}
