namespace Lepidary.App.Layout;

/// <summary>One page of the book, as it stands in the contents.</summary>
/// <param name="Address">Path.</param>
/// <param name="Name">One word.</param>
/// <param name="Question">The one question that it answers.</param>
/// <param name="Thumb">True for the few that a phone's foot shows.</param>
internal sealed record ContentsEntry(string Address, string Name, string Question, bool Thumb = false);

/// <summary>The contents: every page in the order of the week.</summary>
internal static class Contents
{
    public static IReadOnlyList<ContentsEntry> Entries { get; } =
    [
        new("/", "Today", "What is due today?", Thumb: true),
        new("/lists", "Lists", "What is on offer this week?"),
        new("/weeks", "Weeks", "What is unusual on the lists, and who has what, how often?"),
        new("/order", "Order", "What should I order, and what will it do?", Thumb: true),
        new("/deliveries", "Deliveries", "What came, and is it what was ordered?"),
        new("/round", "Round", "What happened in the cages?", Thumb: true),
        new("/flying", "Flying", "What flies, and what will fly?", Thumb: true),
        new("/paper", "Paper", "What do I print for the clipboard, the row and the wall?"),
        new("/species", "Species", "How does it live?"),
        new("/suppliers", "Suppliers", "Who was worth it?"),
        new("/season", "Season", "Does ordering this way pay?"),
        new("/honesty", "Honesty", "Does it come as Lepidary says?"),
        new("/house", "House", "What is this house, and what does it want?"),
    ];
}
