using Lepidary.Architecture.Planting;
using Lepidary.Architecture.Rooms;

namespace Lepidary.Architecture.Pages;

public sealed class PageRulesTests
{
    private static readonly Planted _science = Planted.Assembly(
        "Lepidary.Science",
        """
        namespace Lepidary
        {
            public class Problem { public string Describe() => ""; }
        }
        namespace Lepidary.Science.Counts
        {
            public class CountDistribution { public double Mean { get; } public double AtLeast(int n) => 0; }
            public static class Pairs { public static double Chance(int n) => 0; }
        }
        """);

    [Fact]
    public void Computing_product_finds_nothing() => Assert.Empty(PageRules.Computing(ProductAssemblies.Read("lepidary")));

    [Theory]
    [InlineData("ComponentBase", "_given.AtLeast(2)")]
    [InlineData("LayoutComponentBase", "_given.AtLeast(2)")]
    [InlineData("OwningComponentBase", "_given.AtLeast(2)")]
    [InlineData("Ours", "_given.AtLeast(2)")]
    [InlineData("Ours<int>", "_given.AtLeast(2)")]
    [InlineData("ComponentBase", "Lepidary.Science.Counts.Pairs.Chance(8)")]
    [InlineData("ComponentBase", "new CountDistribution()")]
    [InlineData("ComponentBase", "((System.Func<double>)(() => _given.AtLeast(2)))()")]
    public void Computing_planted_computation_is_found(string ancestor, string expression)
    {
        var app = Page(ancestor, expression);

        Assert.Equal("Page", Assert.Single(PageRules.Computing(app.Read())).Where);
    }

    [Theory]
    [InlineData("_given.Mean")]
    [InlineData("_given.ToString()")]
    [InlineData("_wrong.Describe()")]
    public void Computing_showing_a_finished_figure_finds_nothing(string expression) =>
        Assert.Empty(PageRules.Computing(Page("ComponentBase", expression).Read()));

    [Fact]
    public void Computing_use_case_that_computes_finds_nothing() => Assert.Empty(PageRules.Computing(Page("object", "_given.AtLeast(2)").Read()));

    private static Planted Page(string ancestor, string expression) => Planted.Assembly(
        "lepidary",
        $$"""
        using Lepidary.Science.Counts;
        using Microsoft.AspNetCore.Components;
        public abstract class Ours : ComponentBase { }
        public abstract class Ours<T> : ComponentBase { }
        public class Page : {{ancestor}}
        {
            private CountDistribution _given = null;
            private Lepidary.Problem _wrong = null;
            public object Show() => {{expression}};
        }
        """,
        _science);
}
