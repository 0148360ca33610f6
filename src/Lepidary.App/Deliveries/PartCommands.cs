using System.CommandLine;
using System.Globalization;
using Lepidary.App.Host;

namespace Lepidary.App.Deliveries;

/// <summary>A big lot counted or looked at in part; no book is needed.</summary>
internal static class PartCommands
{
    public static Command Part(Desk desk)
    {
        var lot = new Option<int?>("--lot") { Description = "Pupae in the lot.", Required = true };
        var looked = new Option<int?>("--looked") { Description = "How many were looked at.", Required = true };
        var bad = new Option<int?>("--bad") { Description = "Bad ones among them.", Required = true };
        var command = new Command("part", "Exact limits for the bad ones of a lot of which a part was looked at.") { lot, looked, bad, desk.Json };
        command.SetAction(parsed => Say(desk, parsed, JudgePart.Do(parsed.GetValue(lot), parsed.GetValue(looked), parsed.GetValue(bad)), judged => judged.Words));
        return command;
    }

    public static Command Weigh(Desk desk)
    {
        var portion = new Option<string[]>("--portion") { Description = "PUPAE=GRAMS of a portion that was counted, as 10=12.3; two or more.", Required = true, AllowMultipleArgumentsPerToken = true };
        var rest = new Option<double?>("--rest") { Description = "What the rest weighs, grams.", Required = true };
        var command = new Command("weigh", "Exact limits for the pupae in a heap, from portions that were counted and weighed.") { portion, rest, desk.Json };
        command.SetAction(parsed => Say(desk, parsed, WeighHeap.Do([.. (parsed.GetValue(portion) ?? []).Select(Read)], parsed.GetValue(rest)), weighed => weighed.Words));
        return command;
    }

    private static PortionTyped Read(string text)
    {
        var parts = text.Split('=');
        return new(
            $"--portion {text}",
            int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var pupae) ? pupae : null,
            parts.Length == 2 && double.TryParse(parts[1], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var grams) ? grams : null);
    }

    private static int Say<T>(Desk desk, ParseResult parsed, Checked<T> said, Func<T, string> words)
        where T : class
    {
        if (!said.IsGood)
        {
            return desk.Terminal.Refuse(said.Problems);
        }

        if (parsed.GetValue(desk.Json))
        {
            return desk.Terminal.PrintJson(said.Value);
        }

        desk.Terminal.Output.WriteLine(words(said.Value));
        return ExitCodes.Done;
    }
}
