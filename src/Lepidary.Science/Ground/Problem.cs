namespace Lepidary;

/// <summary>One thing wrong with what was handed in: where it is, what was found, what was expected.</summary>
/// <param name="Where">File and line, field, or the name of the argument; never empty.</param>
/// <param name="Found">What stands there, as it stands there.</param>
/// <param name="Expected">What would have been understood, or what to do about it.</param>
public sealed record Problem(string Where, string Found, string Expected)
{
    /// <summary>The problem as one line for a person.</summary>
    public override string ToString() => $"{Where}: found {Found}; expected {Expected}";
}

/// <summary>
/// What came of handed-in data: a value, or all the problems at once. Bad input is data, not an exception.
/// </summary>
/// <typeparam name="T">The type of the value when nothing is wrong.</typeparam>
public sealed class Checked<T>
{
    private readonly T? value;

    private Checked(T? value, IReadOnlyList<Problem> problems)
    {
        this.value = value;
        Problems = problems;
    }

    /// <summary>All the problems; empty when <see cref="IsGood"/>.</summary>
    public IReadOnlyList<Problem> Problems { get; }

    /// <summary>True when there is a value.</summary>
    public bool IsGood => Problems.Count == 0;

    /// <summary>The value.</summary>
    /// <exception cref="InvalidOperationException">There is none; the message lists the problems.</exception>
    public T Value => IsGood
        ? value!
        : throw new InvalidOperationException(string.Join("\n", Problems));

    /// <summary>A value with nothing wrong.</summary>
    public static implicit operator Checked<T>(T value) => new(value, []);

    /// <summary>A failure with every problem found.</summary>
    /// <exception cref="ArgumentException">No problem was named.</exception>
    public static implicit operator Checked<T>(Problem[] problems)
    {
        ArgumentNullException.ThrowIfNull(problems);
        return problems.Length == 0
            ? throw new ArgumentException("A failure names at least one problem.", nameof(problems))
            : new(default, problems);
    }

    /// <summary>A failure with one problem.</summary>
    public static implicit operator Checked<T>(Problem problem) => new(default, [problem]);
}
