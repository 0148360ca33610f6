namespace Lepidary.App.Deliveries;

/// <summary>What can go wrong when a box is opened; common practice, and the licence goes before it.</summary>
internal static class Cautions
{
    public static IReadOnlyList<string> OnOpening { get; } =
    [
        "Open the box behind closed doors. Parasitoids can come with pupae: kill any wasp or fly before the lid is fully off.",
        "Take all cotton off each pupa; its threads catch the wings. Keep box, packing, frass and dead pupae in a sealed bag and destroy them as your licence asks.",
    ];

    public static IReadOnlyList<string> OnHanging { get; } =
    [
        "Tie or pin by the silk. Where you must glue, a very small spot on the tip alone, and let it set before the rod goes into the cage.",
        "Hairs and scales irritate eyes and skin, silkmoth cocoons most: gloves, and air.",
    ];
}
