using System.Diagnostics;
using System.Globalization;

namespace Lepidary.Bench;

/// <summary>R as a peer, in the same run on the same numbers.</summary>
internal static class Peers
{
    /// <summary>Runs a script with the data as a file, its only argument, and gives the numbers that it prints.</summary>
    /// <param name="script">In R.</param>
    /// <param name="write">Writes the data.</param>
    /// <returns>Null where Rscript or a package of it is not here.</returns>
    public static double[]? R(string script, Action<TextWriter> write)
    {
        var folder = Directory.CreateTempSubdirectory("lepidary-bench-").FullName;
        try
        {
            var (data, file) = (Path.Combine(folder, "data.csv"), Path.Combine(folder, "peer.R"));
            using (var writer = new StreamWriter(data))
            {
                write(writer);
            }

            File.WriteAllText(file, script);
            using var process = Process.Start(new ProcessStartInfo("Rscript", [file, data]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            process.ErrorDataReceived += (_, _) => { };
            process.BeginErrorReadLine();
            var answer = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode != 0 ? null : [.. answer.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(word => double.Parse(word, CultureInfo.InvariantCulture))];
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }
}
