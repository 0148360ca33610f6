namespace Lepidary.App.Host;

/// <summary>What a form may hand in.</summary>
internal static class Uploads
{
    /// <summary>Largest file, bytes: far above any supplier's list.</summary>
    public const int MaxBytes = 20_000_000;
}
