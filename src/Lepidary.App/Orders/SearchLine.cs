using System.Globalization;
using Lepidary.App.Host;
using Lepidary.App.Words;
using Lepidary.Planning;

namespace Lepidary.App.Orders;

/// <summary>
/// Tells on standard error how a search goes: in a terminal one line that is written over and taken away at the end; where the keeper asks
/// for the steps, one line each.
/// </summary>
internal sealed class SearchLine(Terminal terminal, string currency, bool steps) : IProgress<PlanProgress>, IDisposable
{
    private static readonly TimeSpan Often = TimeSpan.FromMilliseconds(100);

    private readonly bool live = terminal.ErrorIsScreen && !steps;
    private int written;

    public void Report(PlanProgress value)
    {
        if (steps)
        {
            terminal.Error.WriteLine(Words(value, currency));
        }
        else if (live)
        {
            Over(Words(value, currency));
        }
    }

    /// <summary>Waits for a search that runs elsewhere and tells of it; stopping ends the search, and the best order so far is kept.</summary>
    public async Task Follow(OrderSearch search, CancellationToken stop)
    {
        using var stopping = stop.Register(search.Stop);
        PlanProgress? told = null;
        while (!search.Outcome.IsCompleted)
        {
            await Task.WhenAny(search.Outcome, Task.Delay(Often, CancellationToken.None));
            if (search.Best is { } best && best != told)
            {
                Report(told = best);
            }
        }
    }

    public void Dispose()
    {
        if (live && written > 0)
        {
            Over("");
            terminal.Error.Write('\r');
        }
    }

    /// <summary><c>0.4 s: 212 pupae for €310.20. No order is better by more than 3.1 %.</c></summary>
    public static string Words(PlanProgress best, string currency) =>
        string.Create(CultureInfo.InvariantCulture, $"{best.Seconds:0.0} s: {best.Plan.Lines.Sum(line => line.Pupae)} pupae for {MoneyWords.Sum(best.Plan.Total, currency)}. {NotBetterBy(best)}");

    /// <summary>How near to the best an order is known to be.</summary>
    public static string NotBetterBy(PlanProgress best) => best.Gap < 1
        ? string.Create(CultureInfo.InvariantCulture, $"No order is better by more than {best.Gap * 100:0.##} %.")
        : "How much better one can be is not known yet.";

    private void Over(string words)
    {
        terminal.Error.Write("\r" + words.PadRight(written));
        written = words.Length;
    }
}
