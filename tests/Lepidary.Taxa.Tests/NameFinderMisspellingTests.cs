using Lepidary.Taxa.Table;
using Xunit;

namespace Lepidary.Taxa.Tests;

/// <summary>A silently wrong species must be practically never; being asked is cheap. Seeds are fixed.</summary>
public sealed class NameFinderMisspellingTests(ITestOutputHelper output)
{
    private const int Samples = 6_000;
    private const string Letters = "abcdefghijklmnopqrstuvwxyz";

    private static readonly TaxonTable table = TaxonTable.Shipped;
    private static readonly NameFinder finder = new(table);

    [Theory]
    [InlineData(1, 0.94)]
    [InlineData(2, 0.60)]
    public void Find_random_misspelling_is_found_or_asked_and_practically_never_wrong(int edits, double leastFound)
    {
        var random = new Random(20261125);
        var (tried, found, asked, askedRight, missed) = (0, 0, 0, 0, 0);
        var wrong = new List<string>();
        for (var i = 0; i < Samples; i++)
        {
            var taxon = table.All[random.Next(table.All.Count)];
            var printed = taxon.Name;
            for (var e = 0; e < edits; e++)
                printed = Slip(printed, random);
            if (printed == taxon.Name)
                continue;
            tried++;
            var match = finder.Find(printed, NameContext.None);
            if (match.Doubts.Count > 0)
            {
                asked++;
                askedRight += match.Candidates.Contains(taxon) ? 1 : 0;
            }
            else if (match.Taxon == taxon)
            {
                found++;
            }
            else if (match.Taxon is null)
            {
                missed++;
            }
            else
            {
                wrong.Add($"{printed} [{taxon.Name}] → {match.Taxon.Name} ({match.By})");
            }
        }

        output.WriteLine($"{edits} edits, {tried} names: found {Share(found)}, asked {Share(asked)} (the right one among {Share(askedRight)}), nothing {Share(missed)}, silently wrong {wrong.Count}.");
        string Share(int count) => $"{100.0 * count / tried:0.00} %";
        Assert.True(wrong.Count <= tried / 2000, string.Join("\n", wrong));
        Assert.True(found >= leastFound * tried, $"Only {found} of {tried} were found.");
        Assert.True(askedRight >= 0.97 * asked, $"Only {askedRight} of {asked} doubts named the right one.");
    }

    // Real species stand in for those that no table has: each in turn is left out and then looked for.
    [Fact]
    public void Find_real_species_that_the_table_lacks_is_practically_never_another()
    {
        const int parts = 20;
        var (names, species) = (Csv.Shipped("names.csv"), Csv.Shipped("species.csv"));
        var accepted = names.Column("accepted_name");

        // A name that the table itself gives to another species as well, or as a subspecies, is not a slip of the finder.
        var shared = table.Rows.SelectMany(r => r.Ambiguous.Select(a => a.Name)).ToHashSet();
        var (tried, taken, asked, missed) = (0, 0, 0, 0);
        var wrong = new List<string>();
        for (var part = 0; part < parts; part++)
        {
            var row = 0;
            var left = new List<string>();
            var kept = names.Where(cells =>
            {
                if (row++ % parts != part)
                    return true;
                left.Add(cells[accepted]);
                return false;
            });
            var smaller = new NameFinder(new TaxonTable(kept, species));
            foreach (var name in left.Where(n => !shared.Contains(n)))
            {
                tried++;
                var match = smaller.Find(name, NameContext.None);
                if (match.Doubts.Count > 0)
                    asked++;
                else if (match.By == MatchedBy.NewBinomial)
                    taken++;
                else if (match.By == MatchedBy.Nothing)
                    missed++;
                else if (match.By != MatchedBy.FormName)
                    wrong.Add($"{name} → {match.Taxon?.Name} ({match.By})");
            }
        }

        output.WriteLine($"{tried} real species left out in turn: a taxon of its own {taken}, asked {asked}, nothing {missed}, silently another {wrong.Count}.");
        Assert.True(wrong.Count <= tried / 1000, string.Join("\n", wrong));
        Assert.True(taken >= 0.7 * tried, $"Only {taken} of {tried} were taken as species of their own.");
        Assert.True(missed <= 0.03 * tried, $"{missed} of {tried} were not seen to be names.");
    }

    [Theory]
    [InlineData("Papilio priamus", "Atrophaneura priapus")]
    [InlineData("Hebomoia leucippe", "Hebomoia glaucippe")]
    public void Find_neighbour_of_a_known_name_keeps_its_own_meaning(string printed, string notThis)
    {
        // Both are in the table; a letter or two must not lead across.
        var match = finder.Find(printed, NameContext.None);
        Assert.NotEqual(notThis, match.Taxon?.Name);
    }

    // Drop, insert, change or double a letter (or the space), or swap two.
    private static string Slip(string name, Random random)
    {
        var at = random.Next(name.Length);
        var letter = Letters[random.Next(Letters.Length)];
        return random.Next(5) switch
        {
            0 => name.Remove(at, 1),
            1 => name.Insert(at, letter.ToString()),
            2 => name.Remove(at, 1).Insert(at, letter.ToString()),
            3 => name.Insert(at, name[at].ToString()),
            _ => at + 1 < name.Length ? $"{name[..at]}{name[at + 1]}{name[at]}{name[(at + 2)..]}" : name,
        };
    }
}
