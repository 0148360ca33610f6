using System.CommandLine;
using System.Globalization;
using Lepidary.App.Host;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.Logging.Abstractions;

namespace Lepidary.App.Labels;

internal static class LabelCommands
{
    public static Command Create(Desk desk)
    {
        var lots = new Argument<string[]>("LOT") { Description = "Codes of lots; all that hang when none is named.", Arity = ArgumentArity.ZeroOrMore };
        var delivery = new Option<Guid?>("--delivery") { Description = "The lots of this box." };
        var size = new Option<string?>("--size") { Description = $"A label's size in mm: {string.Join("; ", LabelSheet.Usual.Select(usual => usual.Name))}." };
        var paper = new Option<string?>("--paper") { Description = "Your own sheet: paper as 210x297, with --columns, --rows and --label." };
        var columns = new Option<int?>("--columns") { Description = "Labels side by side." };
        var rows = new Option<int?>("--rows") { Description = "Labels one below the other." };
        var label = new Option<string?>("--label") { Description = "One label as 63.5x38.1." };
        var margin = new Option<string?>("--margin") { Description = "To the first label from the left and from above, as 7.2x15.1." };
        var gap = new Option<string?>("--gap") { Description = "Between labels, across and down, as 2.5x0." };
        var skip = new Option<int>("--skip") { Description = "Labels gone from the first sheet." };
        var address = new Option<string>("--address") { Description = "Where a phone finds the pages, as http://192.0.2.7:5280.", Required = true };
        var edges = new Option<bool>("--edges") { Description = "Draw the labels' edges, to cut plain paper." };
        var to = new Option<string>("--to") { Description = "File to write, HTML: open it and print it at 100 %.", DefaultValueFactory = _ => "labels.html" };
        var command = desk.OnBook("labels", "Writes a printed sheet of labels, each with a QR code that opens its lot.", lots, delivery, size, paper, columns, rows, label, margin, gap, skip, address, edges, to);
        command.SetAction((parsed, cancellation) => desk.Open(parsed, async (services, stop) =>
        {
            var problems = new List<Problem>();
            var sheet = parsed.GetValue(paper) is null
                ? parsed.GetValue(size) is { } named ? LabelSheet.Find(named) : LabelSheet.Usual[0].Sheet
                : Own(Pair(parsed, paper, problems), Pair(parsed, label, problems), Pair(parsed, margin, problems), Pair(parsed, gap, problems), parsed.GetValue(columns), parsed.GetValue(rows));
            var named1 = parsed.GetValue(lots) ?? [];
            var found = await services.GetRequiredService<ShowLabels>().Show(new(parsed.GetValue(delivery), named1.Length > 0 ? named1 : null), parsed.GetValue(address)!, stop);
            problems.AddRange([.. sheet.Problems, .. found.Problems]);
            if (sheet.IsGood && (parsed.GetValue(skip) < 0 || parsed.GetValue(skip) >= sheet.Value.Labels))
            {
                problems.Add(new("--skip", parsed.GetValue(skip).ToString(CultureInfo.InvariantCulture), $"0 to {sheet.Value.Labels - 1}"));
            }

            if (problems.Count > 0)
            {
                return desk.Terminal.Refuse(problems);
            }

            var pages = LabelDrawing.Pages(sheet.Value, found.Value, parsed.GetValue(skip));
            var file = parsed.GetValue(to)!;
            try
            {
                await File.WriteAllTextAsync(file, await Html(sheet.Value, pages, parsed.GetValue(edges)), stop);
            }
            catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
            {
                return desk.Terminal.Refuse([new(file, wrong.Message, "a file that can be written")]);
            }

            if (parsed.GetValue(desk.Json))
            {
                return desk.Terminal.PrintJson(new { File = file, Sheets = pages.Count, Labels = found.Value });
            }

            desk.Terminal.Output.WriteLine($"{found.Value.Count} labels on {pages.Count} {(pages.Count == 1 ? "sheet" : "sheets")} in {file}.");
            return ExitCodes.Done;
        }, cancellation));
        return command;
    }

    private static Checked<LabelSheet> Own((double?, double?) paper, (double?, double?) label, (double?, double?) margin, (double?, double?) gap, int? columns, int? rows) =>
        LabelSheet.Of(paper.Item1, paper.Item2, columns, rows, label.Item1, label.Item2, margin.Item1, margin.Item2, gap.Item1, gap.Item2);

    private static (double?, double?) Pair(ParseResult parsed, Option<string?> option, List<Problem> problems)
    {
        if (parsed.GetValue(option) is not { } text)
        {
            return (null, null);
        }

        var parts = text.ToLowerInvariant().Replace('×', 'x').Split('x', StringSplitOptions.TrimEntries);
        var numbers = parts.Select(part => double.TryParse(part, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) ? number : (double?)null).ToList();
        if (numbers.Count != 2 || numbers.Contains(null))
        {
            problems.Add(new(option.Name, text, "two numbers in mm with an x between: 63.5x38.1"));
            return (null, null);
        }

        return (numbers[0], numbers[1]);
    }

    private static async Task<string> Html(LabelSheet sheet, IReadOnlyList<IReadOnlyList<DrawnLabel>> pages, bool edges)
    {
        await using var services = new ServiceCollection().BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, NullLoggerFactory.Instance);
        return "<!DOCTYPE html>\n" + await renderer.Dispatcher.InvokeAsync(async () =>
            (await renderer.RenderComponentAsync<LabelFile>(ParameterView.FromDictionary(new Dictionary<string, object?> { ["Sheet"] = sheet, ["Pages"] = pages, ["Outlines"] = edges }))).ToHtmlString());
    }
}
