using Lepidary.Taxa.Table;
using Xunit;

namespace Lepidary.Taxa.Tests;

/// <summary>Every name that the table prints leads to its own taxon, or to a doubt where the table itself says that it is ambiguous.</summary>
public sealed class NameFinderTableTests
{
    private static readonly NameFinder finder = new(TaxonTable.Shipped);

    private static void Leads(NameRow row, string name, HashSet<string> ambiguous, List<string> wrong, params MatchedBy[] by)
    {
        var match = finder.Find(name, NameContext.None);
        var sure = match.Doubts.Count == 0;
        var good = sure && match.Taxon == row.Taxon && by.Contains(match.By);
        var asked = !sure && ambiguous.Contains(name) && match.Candidates.Contains(row.Taxon);
        if (!good && !asked)
            wrong.Add($"{name} [{row.Taxon.Name}]: {match.By} {match.Taxon?.Name} {string.Join(" ", match.Doubts)}");
    }

    [Fact]
    public void Find_every_scientific_name_leads_to_its_taxon()
    {
        var wrong = new List<string>();
        var rows = TaxonTable.Shipped.Rows;
        var ambiguous = rows.SelectMany(r => r.Ambiguous).Select(a => a.Name).ToHashSet();
        foreach (var row in rows)
        {
            Leads(row, row.Taxon.Name, ambiguous, wrong, MatchedBy.Accepted);
            foreach (var name in row.Taxon.Synonyms)
                Leads(row, name, ambiguous, wrong, MatchedBy.Synonym, MatchedBy.Accepted);
            foreach (var name in row.Misspellings)
                Leads(row, name, ambiguous, wrong, MatchedBy.Spelling, MatchedBy.Synonym, MatchedBy.Accepted);
        }

        Assert.True(wrong.Count == 0, $"{wrong.Count}:\n{string.Join("\n", wrong)}");
    }
}
