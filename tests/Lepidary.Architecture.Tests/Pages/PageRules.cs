using Lepidary.Architecture.Rooms;
using Mono.Cecil;

namespace Lepidary.Architecture.Pages;

/// <summary>
/// A page shows and does not compute. What a page computes, the command line cannot offer and no test without a browser
/// sees; so the use case beside it hands it finished figures.
/// </summary>
internal static class PageRules
{
    /// <summary>
    /// Calls of science or planning from a component's compiled code (markup, code-behind and lambdas alike). Reading a
    /// property of a finished result is showing it; calling a method or making an object is computing. The words that all
    /// rooms share compute nothing.
    /// </summary>
    public static IEnumerable<Finding> Computing(AssemblyDefinition app)
    {
        var pages = app.Modules.SelectMany(module => module.GetTypes()).Where(IsComponent).Select(type => type.FullName).ToHashSet();
        return from use in Use.Of(app)
               where pages.Contains(use.By) && use.Assembly is "Lepidary.Science" or "Lepidary.Planning"
               where use.Member.EndsWith(')') && !IsReading(use.Member) && !RoomRules.IsSharedWord(use)
               select new Finding(use.By, $"calls {use.Type} {use.Member}; a page shows what a use case computed");
    }

    /// <summary>Components in the assembly: how a test knows that the rule has looked at something.</summary>
    public static int CountComponents(AssemblyDefinition app) => app.Modules.SelectMany(module => module.GetTypes()).Count(IsComponent);

    private static bool IsReading(string member) =>
        member.StartsWith("get_", StringComparison.Ordinal)
        || member.StartsWith("op_Equality(", StringComparison.Ordinal) || member.StartsWith("op_Inequality(", StringComparison.Ordinal)
        || member.StartsWith("Deconstruct(", StringComparison.Ordinal) || member is "ToString()";

    private static bool IsComponent(TypeDefinition type)
    {
        var ancestor = type.BaseType;
        while (ancestor is not null && !ancestor.FullName.StartsWith("Microsoft.AspNetCore.Components.", StringComparison.Ordinal))
        {
            ancestor = (ancestor.GetElementType() as TypeDefinition)?.BaseType;
        }

        return ancestor is not null && ancestor.Name.EndsWith("ComponentBase", StringComparison.Ordinal);
    }
}
