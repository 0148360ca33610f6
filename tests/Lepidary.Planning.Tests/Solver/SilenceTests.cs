using System.Runtime.InteropServices;
using Lepidary.Planning.Solver;
using Xunit;

namespace Lepidary.Planning.Tests.Solver;

/// <summary>What the solver prints through the C library must not reach the program's own output.</summary>
public sealed class SilenceTests
{
    [Fact]
    public void Create_streamOfTheCLibrary_isNotTheProgramsOutput()
    {
        using var program = new LinearProgram(1);
        var c = NativeLibrary.Load(OperatingSystem.IsMacOS() ? "libSystem.dylib" : "libc.so.6");
        var stream = Marshal.ReadIntPtr(NativeLibrary.GetExport(c, OperatingSystem.IsMacOS() ? "__stdoutp" : "stdout"));
        var number = Marshal.GetDelegateForFunctionPointer<NumberOf>(NativeLibrary.GetExport(c, "fileno"))(stream);
        Assert.True(number > 2, $"the C library prints to {number}");
    }

    [UnmanagedFunctionPointer(CallingConvention.Cdecl)]
    private delegate int NumberOf(nint stream);
}
