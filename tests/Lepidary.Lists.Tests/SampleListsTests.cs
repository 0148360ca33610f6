using Xunit;

namespace Lepidary.Lists.Tests;

/// <summary>
/// Lists in the habits of many suppliers, each beside what a person reads off it (<c>*.read</c>, checked by hand against the list).
/// Set LEPIDARY_SNAPSHOTS to a folder to have what is read now written there.
/// </summary>
public sealed class SampleListsTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Files", "lists");

    public static TheoryData<string> Names => [.. Directory.EnumerateFiles(Folder).Where(file => !file.EndsWith(".read", StringComparison.Ordinal)).Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Read_sampleList_givesWhatAPersonReads(string name)
    {
        var file = Path.Combine(Folder, name);

        var read = Snapshot.Of(ListReader.Read(File.ReadAllBytes(file), name, Lists.Options, TestContext.Current.CancellationToken).Value);

        if (Environment.GetEnvironmentVariable("LEPIDARY_SNAPSHOTS") is { Length: > 0 } folder)
            File.WriteAllText(Path.Combine(folder, name + ".read"), read);
        Assert.Equal(File.ReadAllText(file + ".read"), read);
    }
}
