using Lepidary.App.Host;
using Lepidary.App.Rounds;
using Lepidary.Book;

namespace Lepidary.App.Paper;

/// <summary>A round sheet as it was typed back.</summary>
/// <param name="Counts">The rows that were looked at, in the order of the sheet.</param>
internal sealed record RoundTyped(IReadOnlyList<CountOnLot> Counts);

/// <summary>What was written down.</summary>
/// <param name="Lots">Lots that were looked at.</param>
/// <param name="DoNotAddUp">Codes of lots that do not add up now.</param>
internal sealed record RoundWritten(int Lots, IReadOnlyList<string> DoNotAddUp);

/// <summary>Writes a whole sheet down at once. All rows are looked at before any is written; sent twice, they are there once.</summary>
internal sealed class TypeRound(EnterCount enter, FactInbox inbox, DiscrepancyReader discrepancies, HouseDay day)
{
    public async Task<Checked<RoundWritten>> Do(RoundTyped typed, CancellationToken cancellation)
    {
        var problems = new List<Problem>();
        var lots = new List<Lot>();
        var facts = new List<Fact>();
        foreach (var count in typed.Counts)
        {
            var rows = await enter.Rows(count, cancellation);
            if (rows.IsGood)
            {
                lots.Add(rows.Value.Lot);
                facts.AddRange(rows.Value.Facts);
            }
            else
            {
                problems.AddRange(rows.Problems.Select(problem => problem.Where == "day" ? problem : problem with { Where = $"{count.Lot}, {problem.Where}" }));
            }
        }

        if (typed.Counts.Count == 0)
        {
            problems.Add(new("sheet", "no row filled in", "a count or the tick in at least one row"));
        }

        if (problems.Count > 0)
        {
            return problems.Distinct().ToArray();
        }

        var taken = await inbox.Take(cancellation, facts);
        if (!taken.IsGood)
        {
            return taken.Problems.ToArray();
        }

        var ids = lots.Select(lot => lot.Id).ToHashSet();
        var wrong = (await discrepancies.ReadAsync(day.HouseId, cancellation)).Select(item => item.LotId).OfType<Guid>().Where(ids.Contains).Distinct();
        return new RoundWritten(lots.Count, [.. wrong.Select(LotCode.Of)]);
    }
}
