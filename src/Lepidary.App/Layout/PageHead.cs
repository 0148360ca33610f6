using Lepidary.App.Host;
using Lepidary.App.Words;

namespace Lepidary.App.Layout;

/// <summary>What stands at the head of every page: whose book it is and what day it is there.</summary>
internal sealed class PageHead(HouseDay day)
{
    public string House => day.HouseName ?? "Lepidary";

    public string Day => DayWords.Long(day.Today);

    public bool DemoDay => day.IsDemo;
}
