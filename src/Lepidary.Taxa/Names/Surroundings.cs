using Lepidary.Taxa.Table;

namespace Lepidary.Taxa.Names;

/// <summary>What stands around a name: beside it on its line, and above it.</summary>
internal sealed class Surroundings(NameIndex index, NameContext context)
{
    /// <summary>Taxa that the text beside names, by a common name or, where a list has its columns the other way round, by a scientific one.</summary>
    public List<Taxon> Beside()
    {
        if (context.CommonNameBeside is not { } text)
            return [];
        var tokens = PrintedName.Read(text);
        var taxa = new List<Taxon>(index.Common.Find(PrintedName.Words(tokens)));
        foreach (var reading in Reading.All(tokens, index, 0))
        {
            if (reading.Epithet is { } epithet && index.Find(reading.Genus.Folded, epithet.Folded) is { } meaning)
                taxa.AddRange(meaning.Taxa);
        }

        return taxa;
    }

    /// <summary>The same, with the common names on the line itself before and behind a scientific name.</summary>
    public List<Taxon> Beside(Reading reading)
    {
        var taxa = Beside();
        taxa.AddRange(index.Common.Find(PrintedName.Words(reading.Before)));
        foreach (var part in Parts(reading.Rest))
            taxa.AddRange(index.Common.Find(PrintedName.Words(part)));
        return [.. taxa.Distinct()];
    }

    /// <summary>True where the heading names a rank, a genus or a region that the taxon belongs to.</summary>
    public bool UnderHeading(Taxon taxon) =>
        context.Heading is { } heading
        && (Place.Holds(heading.Trim(), taxon) || Folding.Fold(heading) == Folding.Fold(taxon.Genus) || Realms.Named(heading).Contains(taxon.Region));

    /// <summary>A text parted at its commas, dashes, slashes and brackets.</summary>
    public static IEnumerable<List<Token>> Parts(IReadOnlyList<Token> tokens)
    {
        var part = new List<Token>();
        foreach (var token in tokens)
        {
            if (token.Break && part.Count > 0)
            {
                yield return part;
                part = [];
            }

            part.Add(token);
        }

        if (part.Count > 0)
            yield return part;
    }
}
