using Lepidary.Science.Listing;

namespace Lepidary.Science.Tests.Listing;

public class ListingWordTest
{
    [Theory]
    [InlineData(0, 3, false)]
    [InlineData(0, 4, true)]
    [InlineData(1, 19, false)]
    public void IsNew_needs_four_lists_without_it(int listed, int lists, bool isNew) => Assert.Equal(isNew, ListingWord.IsNew(listed, lists));

    /// <summary>Wilson's upper end: 1 of 8 0.471, 2 of 8 0.591, 3 of 20 0.360, 5 of 20 0.469, 6 of 20 0.519 (by the formula, z = 1.96).</summary>
    [Theory]
    [InlineData(0, 0, false)]
    [InlineData(1, 1, false)]
    [InlineData(1, 8, true)]
    [InlineData(2, 8, false)]
    [InlineData(3, 20, true)]
    [InlineData(5, 20, true)]
    [InlineData(6, 20, false)]
    public void IsSeldom_only_where_the_counts_support_it(int listed, int lists, bool seldom) => Assert.Equal(seldom, ListingWord.IsSeldom(listed, lists));

    /// <summary>By hand: the middle of 2.40, 2.50, 2.50, 2.50, 2.60 is 2.50; 2.80 is 12 % above it.</summary>
    [Fact]
    public void OffUsual_by_hand()
    {
        decimal[] earlier = [2.50m, 2.40m, 2.50m, 2.60m, 2.50m];

        Assert.Equal(0.12, ListingWord.OffUsual(2.80m, earlier)!.Value, 12);
        Assert.Equal(-0.2, ListingWord.OffUsual(2.00m, earlier)!.Value, 12);
    }

    [Fact]
    public void OffUsual_is_silent_where_it_is_no_news()
    {
        Assert.Null(ListingWord.OffUsual(2.80m, [2.50m, 2.50m, 2.50m, 2.50m]));
        Assert.Null(ListingWord.OffUsual(2.60m, [2.50m, 2.50m, 2.50m, 2.50m, 2.50m]));
        // Two of ten were as dear: it comes up every few weeks.
        Assert.Null(ListingWord.OffUsual(2.80m, [2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.80m, 2.90m]));
        Assert.NotNull(ListingWord.OffUsual(2.80m, [2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.50m, 2.90m]));
    }
}
