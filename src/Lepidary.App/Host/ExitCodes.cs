namespace Lepidary.App.Host;

/// <summary>What a command says with its exit code. The table in docs/commands.md is made from here; a test compares.</summary>
internal static class ExitCodes
{
    public const int Done = 0;
    public const int BadInput = 1;
    public const int BadCommandLine = 2;
    public const int NoPlan = 3;
    public const int NoBook = 4;
    public const int Discrepancy = 5;
    public const int Disagrees = 6;
    public const int Stopped = 130;

    public static IReadOnlyList<(int Code, string Meaning)> Table { get; } =
    [
        (Done, "Done."),
        (BadInput, "A file or a value handed in can't be used. Every problem is named on standard error: where, what was found, what was expected. Nothing was written."),
        (BadCommandLine, "The command line itself is wrong: an unknown command, a missing or malformed option."),
        (NoPlan, "No order satisfies what was asked; the wishes that clash are named."),
        (NoBook, "The book is missing, is not a book, or is in use for a restore."),
        (Discrepancy, "Written, but a lot now counts more than hung in it; the entry is kept and shown to be settled."),
        (Disagrees, "There is a proposal, and the independent checker comes to other figures or finds a broken rule; each is named on standard error."),
        (Stopped, "Stopped by the user; what was committed stays."),
    ];
}
