using System.Globalization;
using Lepidary.Science.Survival;

namespace Lepidary.Bench.Survival;

/// <summary>Kaplan-Meier of 100,000 pupae, beside R's survival on the same pupae in the same run.</summary>
internal static class SurvivalBench
{
    private const int Times = 15;

    public static int Run(string[] args)
    {
        Figures.Head("survival");
        var pupae = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 100_000;
        var random = new Random(args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1);
#pragma warning disable CA5394 // A benchmark's draws need be repeatable, not secret.
        // Whole days from hanging: one in five still hung when it was last looked at.
        Observation[] days = [.. Enumerable.Range(0, pupae).Select(_ => new Observation(2 + (int)(40 * random.NextDouble() * random.NextDouble()), random.Next(5) > 0))];
        Observation[] hours = [.. days.Select(one => one with { Time = one.Time + Math.Round(random.NextDouble(), 6) })];
#pragma warning restore CA5394
        foreach (var (name, sample) in new[] { ("whole days", days), ("any times", hours) })
        {
            KaplanMeier? estimate = null;
            var ours = Figures.Median(Times, () => estimate = KaplanMeier.Of(sample));
            var peer = Peers.R($$"""
                suppressMessages(library(survival))
                d <- read.csv(commandArgs(TRUE)[1])
                fit <- survfit(Surv(time, event) ~ 1, d)
                took <- sapply(1:{{Times}}, function(i) { t <- proc.time()[["elapsed"]]; for (k in 1:5) survfit(Surv(time, event) ~ 1, d); (proc.time()[["elapsed"]] - t) / 5 })
                s <- summary(fit, censored = FALSE)
                every <- unique(round(seq(1, length(s$time), length.out = 40)))
                cat(format(c(median(took), length(s$time), rbind(s$time, s$surv, s$std.err)[, every]), digits = 15), "\n")
                """, writer =>
            {
                writer.WriteLine("time,event");
                foreach (var one in sample) writer.WriteLine(FormattableString.Invariant($"{one.Time:R},{(one.HasEvent ? 1 : 0)}"));
            });
            if (peer is null)
            {
                Console.WriteLine("survival is not here (Rscript with survival): no peer");
                return 0;
            }

            Figures.Row($"Kaplan-Meier of {pupae} pupae, {name}", ours, "ms", 1000 * peer[0]);
            var byTime = estimate!.Steps.ToDictionary(step => step.Time);
            var largest = Enumerable.Range(0, (peer.Length - 2) / 3).Max(i =>
            {
                var step = byTime.MinBy(one => Math.Abs(one.Key - peer[2 + (3 * i)])).Value;
                return Math.Max(Math.Abs(step.Survival - peer[3 + (3 * i)]), double.IsNaN(step.Error) ? 0 : Math.Abs(step.Error - peer[4 + (3 * i)]));
            });
            Figures.Note("steps, ours and R's; largest difference", $"{estimate.Steps.Count}, {peer[1]:0}; {largest:0.0e+0}");
        }

        return 0;
    }
}
