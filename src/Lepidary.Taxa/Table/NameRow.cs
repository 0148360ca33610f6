namespace Lepidary.Taxa.Table;

/// <summary>What the table knows of the printed names of one taxon, beyond what a <see cref="Taxon"/> shows.</summary>
/// <param name="Taxon">The taxon.</param>
/// <param name="AlsoTreatedAs">Names, of two or three words, that another authority uses for it.</param>
/// <param name="Misspellings">Misspellings seen or expected on lists.</param>
/// <param name="Ambiguous">Names that lists use for this taxon and for something else.</param>
internal sealed record NameRow(
    Taxon Taxon,
    IReadOnlyList<string> AlsoTreatedAs,
    IReadOnlyList<string> Misspellings,
    IReadOnlyList<AmbiguousName> Ambiguous);

/// <summary>A name that lists use for this taxon and for something else.</summary>
/// <param name="Name">The binomial as printed.</param>
/// <param name="Others">Accepted names of what else it can mean; empty where that has no row.</param>
internal sealed record AmbiguousName(string Name, IReadOnlyList<string> Others);
