namespace Lepidary.Science.Tests;

/// <summary>Properties on cases drawn from a fixed seed, so that a failure today is the same failure tomorrow.</summary>
internal static class Property
{
    /// <summary>Fails with the case in its message when the check fails on one of the drawn cases.</summary>
    public static void Holds<T>(this Gen<T> cases, Action<T> check, int times = 100, uint seed = 1)
    {
        var random = new PCG(seed, 20_26);
        for (var i = 0; i < times; i++)
        {
            var drawn = cases.Generate(random, null, out _);
            try
            {
                check(drawn);
            }
            catch (Exception failure) when (failure is Xunit.Sdk.IAssertionException or ArgumentException or ArithmeticException)
            {
                throw new InvalidOperationException($"case {i}: {Check.Print(drawn)}: {failure.Message}", failure);
            }
        }
    }

    /// <inheritdoc cref="Holds{T}(Gen{T}, Action{T}, int, uint)"/>
    public static void Holds<T1, T2>(this Gen<(T1, T2)> cases, Action<T1, T2> check, int times = 100, uint seed = 1) =>
        cases.Holds(drawn => check(drawn.Item1, drawn.Item2), times, seed);

    /// <inheritdoc cref="Holds{T}(Gen{T}, Action{T}, int, uint)"/>
    public static void Holds<T1, T2, T3>(this Gen<(T1, T2, T3)> cases, Action<T1, T2, T3> check, int times = 100, uint seed = 1) =>
        cases.Holds(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3), times, seed);

    /// <inheritdoc cref="Holds{T}(Gen{T}, Action{T}, int, uint)"/>
    public static void Holds<T1, T2, T3, T4>(
        this Gen<(T1, T2, T3, T4)> cases, Action<T1, T2, T3, T4> check, int times = 100, uint seed = 1) =>
        cases.Holds(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4), times, seed);

    /// <inheritdoc cref="Holds{T}(Gen{T}, Action{T}, int, uint)"/>
    public static void Holds<T1, T2, T3, T4, T5>(
        this Gen<(T1, T2, T3, T4, T5)> cases, Action<T1, T2, T3, T4, T5> check, int times = 100, uint seed = 1) =>
        cases.Holds(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4, drawn.Item5), times, seed);
}

public class PropertyTest
{
    [Fact]
    public void Holds_fails_where_the_check_fails()
    {
        Assert.Throws<InvalidOperationException>(() => Gen.Int[0, 9].Holds(i => Assert.True(i < 9)));
        Gen.Int[0, 9].Holds(i => Assert.InRange(i, 0, 9));
    }

    [Fact]
    public void Holds_draws_the_same_cases_each_time()
    {
        var (one, other) = (new List<int>(), new List<int>());
        Gen.Int[0, 1000].Holds(one.Add);
        Gen.Int[0, 1000].Holds(other.Add);
        Assert.Equal(one, other);
        Assert.True(one.Distinct().Count() > 50);
    }
}
