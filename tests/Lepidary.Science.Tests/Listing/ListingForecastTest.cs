using Lepidary.Science.Listing;

namespace Lepidary.Science.Tests.Listing;

public class ListingForecastTest
{
    private static readonly DateOnly First = new(2024, 1, 3);

    private static SeenList List(int week, params string[] listed) => new(First.AddDays(7 * week), listed.ToHashSet(), new HashSet<string>());

    /// <summary>Three of twenty: the plain counts are kept, the chance is pulled towards the supplier's other taxa.</summary>
    [Fact]
    public void Of_seldom_listed_is_pulled_towards_the_others()
    {
        var lists = Enumerable.Range(0, 20).Select(week => List(week, [.. week % 7 == 3 ? ["seldom"] : Array.Empty<string>(), "a", "b", "c"])).ToList();
        var forecast = new ListingForecast(lists, [], First.AddDays(140));
        var seldom = forecast.Of("seldom");
        Assert.Equal((3, 20), (seldom.Listed, seldom.Lists));
        Assert.InRange(seldom.OnList[0], 0.15, 0.35);
        Assert.True(forecast.Of("a").OnList[0] > 0.9);
        var (from, to) = seldom.Next.Interval(0.8);
        Assert.True(from < seldom.OnList[0] && seldom.OnList[0] < to);
    }

    /// <summary>A list that is missing is not a list without the taxon; nor is one whose line is in doubt.</summary>
    [Fact]
    public void Of_missing_or_doubtful_lists_are_not_counted()
    {
        SeenList[] lists = [List(0, "a"), List(5, "a"), List(6, "a") with { Listed = new HashSet<string>(), InDoubt = new HashSet<string> { "a" } }];
        var a = new ListingForecast(lists, [], First.AddDays(50)).Of("a");
        Assert.Equal((2, 2), (a.Listed, a.Lists));
    }

    [Fact]
    public void Pattern_of_lists_drawn_anew_is_steady()
    {
        var random = new Random(3);
        var names = Enumerable.Range(0, 30).Select(i => $"taxon {i:00}").ToList();
        var rates = names.ToDictionary(name => name, _ => random.NextDouble());
        var forecast = new ListingForecast(Enumerable.Range(0, 30).Select(week => List(week, [.. names.Where(name => random.NextDouble() < rates[name])])), names, First.AddDays(210));
        Assert.Equal(ListingPattern.Steady, forecast.Pattern);
        Assert.True(forecast.Evidence[ListingPattern.Lasting] < 0);
    }

    /// <summary>
    /// Broods that last some weeks: the pattern is found from the first lists, and foretells the later ones measurably better (mean log score) than how often
    /// alone.
    /// </summary>
    [Fact]
    public void Pattern_of_lasting_broods_is_found_and_foretells_better()
    {
        var random = new Random(5);
        var names = Enumerable.Range(0, 30).Select(i => $"taxon {i:00}").ToList();
        var there = names.ToDictionary(name => name, _ => random.NextDouble() < 0.4);
        var lists = new List<SeenList>();
        for (var week = 0; week < 40; week++)
        {
            foreach (var name in names)
                there[name] = random.NextDouble() < (there[name] ? 0.85 : 0.1);
            lists.Add(List(week, [.. names.Where(name => there[name])]));
        }

        var (lasting, steady, scored) = (0.0, 0.0, 0);
        foreach (var week in Enumerable.Range(20, 20).Where(week => week % 4 == 0))
        {
            var forecast = new ListingForecast(lists.Take(week), names, lists[week].Day);
            Assert.Equal(ListingPattern.Lasting, forecast.Pattern);
            var plain = new ListingRates([.. names.Select(name => (forecast.Of(name).Listed, forecast.Of(name).Lists))]);
            foreach (var name in names)
            {
                var chance = forecast.Of(name);
                var often = plain.Of(chance.Listed, chance.Lists).Mean;
                var came = lists[week].Listed.Contains(name);
                (lasting, steady, scored) = (lasting + Math.Log(came ? chance.OnList[0] : 1 - chance.OnList[0]), steady + Math.Log(came ? often : 1 - often), scored + 1);
                // Far ahead it comes back to how often.
                Assert.Equal(often, chance.OnList[^1], 0.3);
            }
        }

        Assert.True((lasting - steady) / scored > 0.1, $"{lasting / scored} against {steady / scored}");
    }

    /// <summary>Taxa that come in their quarters: found once each quarter has been seen in two years, and not before.</summary>
    [Fact]
    public void Pattern_of_seasons_needs_two_years()
    {
        var names = Enumerable.Range(0, 12).Select(i => $"taxon {i:00}").ToList();
        bool Comes(int taxon, DateOnly day) => (day.Month - 1) / 3 == taxon % 4;
        var lists = Enumerable.Range(0, 2 * 26).Select(i => First.AddDays(14 * i)).Select(day => new SeenList(day, names.Where((_, i) => Comes(i, day)).ToHashSet(), new HashSet<string>())).ToList();
        var next = First.AddDays(14 * 52);
        var forecast = new ListingForecast(lists, names, next);
        Assert.Contains(ListingPattern.Seasonal, forecast.Evidence.Keys);
        Assert.DoesNotContain(ListingPattern.Seasonal, new ListingForecast(lists.Take(30), names, next).Evidence.Keys);
        // Which of the two wins is the books' matter: both know what comes next.
        for (var i = 0; i < names.Count; i++)
            Assert.Equal(Comes(i, next) ? 1 : 0, forecast.Of(names[i]).OnList[0], 0.35);
    }

    /// <summary>Long after the last list, what was on it tells nothing more than how often.</summary>
    [Fact]
    public void Of_long_after_the_last_list_is_how_often()
    {
        var lists = Enumerable.Range(0, 40).Select(week => List(week, [.. week / 10 % 2 == 0 ? ["a"] : Array.Empty<string>(), .. week / 8 % 2 == 0 ? ["b"] : Array.Empty<string>(), .. week / 13 % 2 == 1 ? ["c"] : Array.Empty<string>()])).ToList();
        var soon = new ListingForecast(lists, [], lists[^1].Day.AddDays(7));
        var late = new ListingForecast(lists, [], lists[^1].Day.AddDays(60));
        Assert.Equal(ListingPattern.Lasting, soon.Pattern);
        Assert.Equal(late.Of("a").OnList[0], new ListingRates([.. new[] { "a", "b", "c" }.Select(name => (late.Of(name).Listed, late.Of(name).Lists))]).Of(20, 40).Mean, 1e-12);
        Assert.NotEqual(soon.Of("a").OnList[0], late.Of("a").OnList[0], 0.1);
    }
}
