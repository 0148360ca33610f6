namespace Lepidary.App.Rounds;

/// <summary>What to do at once when parasitoids came out of a pupa.</summary>
internal static class Hygiene
{
    /// <summary>The steps in their order. Common practice; whatever the house's licence says goes before them.</summary>
    public static IReadOnlyList<string> Steps { get; } =
    [
        "Keep the cage closed. Kill every wasp or fly inside before you open it.",
        "Bag the suspect pupae and freeze them. Look at every pupa of the same row.",
        "Look over the floor and the glass of the cage, for wasps and for dark, ridged fly pupae.",
        "Wash hands and tools before you touch another cage. Leave larvae and young pupae of your own until tomorrow.",
        "Write down how many, and tell the supplier. Keep what you bagged until that is settled.",
        "If one may have got out, your licence or your plant health inspector may want to be told the same day. Ask them.",
    ];
}
