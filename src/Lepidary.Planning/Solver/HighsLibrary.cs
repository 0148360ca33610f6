using System.Reflection;
using System.Runtime.InteropServices;

namespace Lepidary.Planning.Solver;

/// <summary>
/// The C door of HiGHS 1.12, which ships in the native part of the Google.OrTools package. HighsInt is a 32-bit integer there.
/// </summary>
internal static unsafe partial class HighsLibrary
{
    private const string Name = "highs";

    static HighsLibrary()
    {
        NativeLibrary.SetDllImportResolver(typeof(HighsLibrary).Assembly, Resolve);
        SilenceC();
    }

    // The library prints a line of its own to the C library's stdout now and then, whatever its options say, which would spoil what we
    // print there for other programs. .NET writes to the console without the C library, so its stream can point nowhere.
    private static void SilenceC()
    {
        var (library, stream) = OperatingSystem.IsMacOS() ? ("libSystem.dylib", "__stdoutp") : ("libc.so.6", "stdout");
        if (OperatingSystem.IsWindows() || !NativeLibrary.TryLoad(library, out var c))
            return;
        if (NativeLibrary.TryGetExport(c, stream, out var variable) && NativeLibrary.TryGetExport(c, "fopen", out var open))
        {
            fixed (byte* nowhere = "/dev/null\0"u8, write = "w\0"u8)
            {
                if (((delegate* unmanaged[Cdecl]<byte*, byte*, nint>)open)(nowhere, write) is var silent && silent != 0)
                    *(nint*)variable = silent;
            }
        }
    }

    // The package names the file with its version on Linux and macOS, which the runtime's own probing would not try.
    private static nint Resolve(string name, Assembly assembly, DllImportSearchPath? path)
    {
        if (name != Name)
            return 0;
        var file = OperatingSystem.IsWindows() ? "highs.dll"
            : OperatingSystem.IsMacOS() ? "libhighs.1.dylib"
            : "libhighs.so.1";
        return NativeLibrary.Load(file, assembly, path);
    }

    [LibraryImport(Name, EntryPoint = "Highs_create")]
    internal static partial nint Create();

    [LibraryImport(Name, EntryPoint = "Highs_destroy")]
    internal static partial void Destroy(nint highs);

    [LibraryImport(Name, EntryPoint = "Highs_run")]
    internal static partial int Run(nint highs);

    [LibraryImport(Name, EntryPoint = "Highs_getModelStatus")]
    internal static partial int GetModelStatus(nint highs);

    [LibraryImport(Name, EntryPoint = "Highs_clearSolver")]
    internal static partial int ClearSolver(nint highs);

    [LibraryImport(Name, EntryPoint = "Highs_addCols")]
    internal static partial int AddCols(
        nint highs, int count, double* costs, double* lower, double* upper, int nonzeros, int* starts, int* index, double* value);

    [LibraryImport(Name, EntryPoint = "Highs_addRows")]
    internal static partial int AddRows(
        nint highs, int count, double* lower, double* upper, int nonzeros, int* starts, int* index, double* value);

    [LibraryImport(Name, EntryPoint = "Highs_changeColsBoundsByRange")]
    internal static partial int ChangeColsBounds(nint highs, int from, int to, double* lower, double* upper);

    [LibraryImport(Name, EntryPoint = "Highs_changeColBounds")]
    internal static partial int ChangeColBounds(nint highs, int column, double lower, double upper);

    [LibraryImport(Name, EntryPoint = "Highs_changeColCost")]
    internal static partial int ChangeColCost(nint highs, int column, double cost);

    [LibraryImport(Name, EntryPoint = "Highs_changeRowBounds")]
    internal static partial int ChangeRowBounds(nint highs, int row, double lower, double upper);

    [LibraryImport(Name, EntryPoint = "Highs_changeColsIntegralityByRange")]
    internal static partial int ChangeIntegrality(nint highs, int from, int to, int* integrality);

    [LibraryImport(Name, EntryPoint = "Highs_getSolution")]
    internal static partial int GetSolution(nint highs, double* columns, double* columnDuals, double* rows, double* rowDuals);

    [LibraryImport(Name, EntryPoint = "Highs_setSolution")]
    internal static partial int SetSolution(nint highs, double* columns, double* rows, double* columnDuals, double* rowDuals);

    [LibraryImport(Name, EntryPoint = "Highs_getDoubleInfoValue", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial int GetDoubleInfo(nint highs, string info, out double value);

    [LibraryImport(Name, EntryPoint = "Highs_getIntInfoValue", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial int GetIntInfo(nint highs, string info, out int value);

    [LibraryImport(Name, EntryPoint = "Highs_setBoolOptionValue", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial int SetBool(nint highs, string option, int value);

    [LibraryImport(Name, EntryPoint = "Highs_setIntOptionValue", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial int SetInt(nint highs, string option, int value);

    [LibraryImport(Name, EntryPoint = "Highs_setDoubleOptionValue", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial int SetDouble(nint highs, string option, double value);

    [LibraryImport(Name, EntryPoint = "Highs_setStringOptionValue", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial int SetString(nint highs, string option, string value);

    [LibraryImport(Name, EntryPoint = "Highs_writeModel", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial int WriteModel(nint highs, string file);

    [LibraryImport(Name, EntryPoint = "Highs_setCallback")]
    internal static partial int SetCallback(
        nint highs, delegate* unmanaged[Cdecl]<int, nint, nint, int*, nint, void> callback, nint data);

    [LibraryImport(Name, EntryPoint = "Highs_startCallback")]
    internal static partial int StartCallback(nint highs, int type);

    [LibraryImport(Name, EntryPoint = "Highs_getRunTime")]
    internal static partial double GetRunTime(nint highs);

    [LibraryImport(Name, EntryPoint = "Highs_getSizeofHighsInt")]
    internal static partial int GetSizeofHighsInt(nint highs);
}
