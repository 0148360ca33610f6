namespace Lepidary.Science.Recapture;

/// <summary>
/// Marked animals by when they were released (or released again) and when they were next seen: the m-array. Row i: released on occasion i; column j: next seen on occasion
/// i+1+j.
/// </summary>
public sealed class ReleaseTable
{
    private readonly int[][] next;

    /// <summary>Creates a table.</summary>
    /// <param name="released">Releases on occasions 0…n-2.</param>
    /// <param name="next">Next seen: row i has n-1-i counts, for occasions i+1…n-1.</param>
    /// <exception cref="ArgumentException">Shapes do not fit, a count is below 0, or more were seen than released.</exception>
    public ReleaseTable(IReadOnlyList<int> released, IReadOnlyList<IReadOnlyList<int>> next)
    {
        ArgumentNullException.ThrowIfNull(released);
        ArgumentNullException.ThrowIfNull(next);
        if (released.Count == 0 || next.Count != released.Count) throw new ArgumentException("A row of next sightings for every release.", nameof(next));
        for (var i = 0; i < next.Count; i++)
        {
            if (next[i].Count != released.Count - i)
                throw new ArgumentException($"Release {i} can be next seen on {released.Count - i} occasions, not {next[i].Count}.", nameof(next));
            if (next[i].Any(count => count < 0) || next[i].Sum() > released[i])
                throw new ArgumentException($"Release {i}: {next[i].Sum()} seen of {released[i]} released.", nameof(next));
        }
        Released = [.. released];
        this.next = [.. next.Select(row => row.ToArray())];
    }

    /// <summary>Releases by occasion; the last occasion releases nobody who could be seen again.</summary>
    public IReadOnlyList<int> Released { get; }

    /// <summary>Times between two occasions: one less than there are occasions.</summary>
    public int Intervals => Released.Count;

    /// <summary>Next sightings of those released on occasion <paramref name="release"/>.</summary>
    public IReadOnlyList<int> NextSeen(int release) => next[release];

    /// <summary>From capture histories: one string of 0 and 1 an animal kind, all of one length, and how many animals have it.</summary>
    /// <exception cref="ArgumentException">A history is empty, of another length, or has another character.</exception>
    public static ReleaseTable FromHistories(IReadOnlyCollection<(string History, int Animals)> histories)
    {
        ArgumentNullException.ThrowIfNull(histories);
        var occasions = histories.Count == 0 ? 0 : histories.First().History.Length;
        if (occasions < 2) throw new ArgumentException("At least two occasions.", nameof(histories));
        var (released, next) = (new int[occasions - 1], new int[occasions - 1][]);
        for (var i = 0; i < next.Length; i++) next[i] = new int[occasions - 1 - i];
        foreach (var (history, animals) in histories)
        {
            if (history.Length != occasions || history.Any(mark => mark is not ('0' or '1')) || animals < 0)
                throw new ArgumentException($"{history}: not {occasions} of 0 and 1.", nameof(histories));
            var last = -1;
            for (var occasion = 0; occasion < occasions; occasion++)
            {
                if (history[occasion] == '0') continue;
                if (last >= 0) next[last][occasion - last - 1] += animals;
                if (occasion < occasions - 1) released[occasion] += animals;
                last = occasion;
            }
        }
        return new(released, next);
    }
}
