using Mono.Cecil;

namespace Lepidary.Architecture.Rooms;

/// <summary>The compiled rooms, as they lie beside the tests.</summary>
internal static class ProductAssemblies
{
    /// <summary>Reads one room's assembly.</summary>
    public static AssemblyDefinition Read(string name) =>
        AssemblyDefinition.ReadAssembly(Path.Combine(AppContext.BaseDirectory, name + ".dll"));
}
