using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Mono.Cecil;

namespace Lepidary.Architecture.Planting;

/// <summary>
/// Small assemblies compiled on the spot that break a rule on purpose. A rule that finds nothing in the product proves
/// something only when the same rule finds what was planted.
/// </summary>
internal sealed class Planted
{
    private static readonly IReadOnlyList<MetadataReference> _platform =
        [.. ((string)AppContext.GetData("TRUSTED_PLATFORM_ASSEMBLIES")!).Split(Path.PathSeparator)
            .Where(path => !Path.GetFileName(path).StartsWith("lepidary", StringComparison.OrdinalIgnoreCase))
            .Select(path => MetadataReference.CreateFromFile(path))];

    private readonly byte[] _image;

    private Planted(string name, byte[] image)
    {
        Name = name;
        _image = image;
    }

    /// <summary>The assembly's name: that of a room, so that the room's rule applies to it.</summary>
    public string Name { get; }

    /// <summary>Compiles one assembly of this name.</summary>
    /// <param name="name">Name of the assembly.</param>
    /// <param name="code">C# source.</param>
    /// <param name="references">Other planted assemblies that the code names.</param>
    /// <exception cref="InvalidOperationException">The planted code does not compile: the test itself is wrong.</exception>
    public static Planted Assembly(string name, string code, params Planted[] references)
    {
        var compilation = CSharpCompilation.Create(
            name,
            [CSharpSyntaxTree.ParseText(code)],
            [.. _platform, .. references.Select(r => MetadataReference.CreateFromImage(r._image))],
            new CSharpCompilationOptions(OutputKind.DynamicallyLinkedLibrary));
        using var image = new MemoryStream();
        var result = compilation.Emit(image);
        return result.Success
            ? new Planted(name, image.ToArray())
            : throw new InvalidOperationException(string.Join('\n', result.Diagnostics));
    }

    /// <summary>The assembly as the rules read it.</summary>
    public AssemblyDefinition Read() => AssemblyDefinition.ReadAssembly(new MemoryStream(_image));
}
