using System.CommandLine;
using Lepidary.App.Host;

namespace Lepidary.App.House;

internal static class HouseCommands
{
    public static Command Create(Desk desk) => new("house", "The house: its terms, aims and suppliers.") { };
}
