namespace Lepidary.Browser.Harness;

/// <summary>A window's size in CSS pixels.</summary>
internal sealed record Screen(int Width, int Height)
{
    /// <summary>The phone in a keeper's pocket.</summary>
    public static readonly Screen Phone = new(390, 844);

    /// <summary>The screen in the office.</summary>
    public static readonly Screen Desk = new(1280, 900);

    /// <summary>The screen of this width.</summary>
    public static Screen OfWidth(int width) => width == Phone.Width ? Phone : Desk;
}
