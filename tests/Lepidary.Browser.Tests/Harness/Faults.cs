namespace Lepidary.Browser.Harness;

/// <summary>Fails with every fault in full: a list cut short would hide what to mend.</summary>
internal static class Faults
{
    public static void None(params IReadOnlyList<string>[] found)
    {
        var all = found.SelectMany(faults => faults).ToList();
        if (all.Count > 0)
        {
            Assert.Fail($"{all.Count} faults:\n{string.Join('\n', all)}");
        }
    }
}
