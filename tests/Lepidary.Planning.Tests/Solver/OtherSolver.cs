using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Lepidary.Planning.Tests.Solver;

/// <summary>Debian's solvers, run on a model file. They are no part of the product; the tests only compare with them.</summary>
internal static partial class OtherSolver
{
    /// <summary>The optimum that <c>cbc</c> (package coinor-cbc) proves.</summary>
    public static double Cbc(string mps)
    {
        var text = Run("cbc", "coinor-cbc", [mps, "-ratioGap", "0", "-allowableGap", "0", "-solve"]);
        return Number(CbcObjective().Match(text), text);
    }

    /// <summary>The optimum that <c>glpsol</c> (package glpk-utils) proves.</summary>
    public static double Glpsol(string mps)
    {
        var answer = Path.ChangeExtension(mps, ".glpk.txt");
        var told = Run("glpsol", "glpk-utils", ["--freemps", mps, "--tmlim", "120", "-o", answer]);
        var text = File.ReadAllText(answer);
        return text.Contains("OPTIMAL", StringComparison.Ordinal)
            ? Number(GlpsolObjective().Match(text), text)
            : throw new InvalidOperationException(told + text[..Math.Min(text.Length, 400)]);
    }

    private static string Run(string name, string package, string[] arguments)
    {
        var path = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists)
            ?? throw new InvalidOperationException($"{name} is not on the PATH. On Debian: apt-get install {package}.");
        var start = new ProcessStartInfo(path) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        var errors = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 ? text : throw new InvalidOperationException($"{name} ended with {process.ExitCode}: {text}{errors.Result}");
    }

    private static double Number(Match match, string text) => match.Success
        ? double.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture)
        : throw new InvalidOperationException("No optimum in: " + text[..Math.Min(text.Length, 2000)]);

    [GeneratedRegex(@"Objective value:\s+(-?[0-9.e+-]+)")]
    private static partial Regex CbcObjective();

    [GeneratedRegex(@"Objective:\s+\S+\s+=\s+(-?[0-9.e+-]+)")]
    private static partial Regex GlpsolObjective();
}
