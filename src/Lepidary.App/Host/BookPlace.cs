namespace Lepidary.App.Host;

/// <summary>Where the book lies: one SQLite file, or a PostgreSQL database.</summary>
/// <param name="Text">A path, or a connection string that begins with <c>Host=</c>.</param>
internal sealed record BookPlace(string Text)
{
    /// <summary>Name of the environment variable that names the book where no option does.</summary>
    public const string Variable = "LEPIDARY_BOOK";

    /// <summary>The book where neither an option nor the variable names one.</summary>
    public const string Usual = "book/lepidary.db";

    public bool IsPostgres => Text.StartsWith("Host=", StringComparison.OrdinalIgnoreCase);

    /// <summary>The place that an option names, else the variable, else the usual one.</summary>
    public static BookPlace From(string? option) =>
        new(option ?? Environment.GetEnvironmentVariable(Variable) ?? Usual);

    /// <summary>For a message: a connection string may hold a password.</summary>
    public override string ToString() => IsPostgres ? "the PostgreSQL book" : Text;
}
