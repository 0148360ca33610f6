namespace Lepidary.Architecture;

/// <summary>One place where a rule of the code base does not hold.</summary>
/// <param name="Where">The type or the file (with its line).</param>
/// <param name="What">What stands there that should not, and why.</param>
internal sealed record Finding(string Where, string What)
{
    public override string ToString() => $"{Where}: {What}";
}
