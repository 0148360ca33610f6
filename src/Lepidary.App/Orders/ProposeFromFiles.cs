using Lepidary.App.House;
using Lepidary.App.Lists;
using Lepidary.Lists;
using Lepidary.Planning;
using Lepidary.Taxa;

namespace Lepidary.App.Orders;

/// <summary>Plans from a house file and lists, without a book.</summary>
/// <param name="House">Path of the house file.</param>
/// <param name="Lists">Each <c>SUPPLIER=PATH</c>.</param>
/// <param name="On">The order day.</param>
/// <param name="Rules">Each <c>OFFER=PUPAE</c>, 0 to forbid.</param>
internal sealed record ProposeFromFiles(string House, IReadOnlyList<string> Lists, DateOnly On, IReadOnlyList<string> Rules, PlanSettings Settings)
{
    public Checked<(PlanningInput Input, PlanningTask Task)> Lay(TaxonTable table)
    {
        var problems = new List<Problem>();
        var sheet = HouseFile.Read(House);
        problems.AddRange(sheet.Problems);
        var names = new NameFinder(table);
        var lists = new List<ListOnOffer>();
        foreach (var said in Lists)
        {
            var split = said.IndexOf('=', StringComparison.Ordinal);
            if (split <= 0)
            {
                problems.Add(new("--list", said, "SUPPLIER=FILE"));
                continue;
            }

            var (supplier, path) = (said[..split].Trim(), said[(split + 1)..]);
            var read = ListFile.Read(path, new ReadOptions { Names = names, Supplier = supplier, Today = On });
            problems.AddRange(read.Problems);
            if (!sheet.IsGood)
            {
                continue;
            }

            var terms = sheet.Value.House.Terms.FirstOrDefault(terms => terms.Supplier!.Name.Equals(supplier, StringComparison.OrdinalIgnoreCase));
            if (terms is null)
            {
                problems.Add(new("--list", $"the supplier {supplier}", $"one of the house file's suppliers: {string.Join(", ", sheet.Value.House.Terms.Select(known => known.Supplier!.Name))}"));
            }
            else if (read.IsGood)
            {
                lists.Add(new ListOnOffer(terms, read.Value, Path.GetFileName(path)));
            }
        }

        foreach (var twice in lists.GroupBy(list => list.Terms.Supplier!.Name).Where(group => group.Count() > 1))
        {
            problems.Add(new("--list", $"{twice.Count()} lists of {twice.Key}", "one list a supplier and week"));
        }

        var rules = LineRules.Read(Rules, problems);
        if (problems.Count > 0)
        {
            return problems.ToArray();
        }

        var input = new PlanningInput { House = sheet.Value.House, Stock = sheet.Value.Stock, Lists = lists, OrderDay = On, Rules = rules, Settings = Settings };
        var task = PlanningDesk.Lay(input, table);
        return task.IsGood ? (input, task.Value) : task.Problems.ToArray();
    }
}
