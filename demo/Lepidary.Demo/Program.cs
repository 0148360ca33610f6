using Lepidary.Demo;

// Writes the generated files of the public glasshouse into the folder given, or with --check compares them with what lies there.
bool check = args.Contains("--check");
string root = args.FirstOrDefault(arg => !arg.StartsWith('-')) ?? Path.Combine("demo", "public-glasshouse");

Season season = Season.Run();
List<(string Path, byte[] Bytes)> files = [("history.json", season.History.ToJson())];
files.AddRange(season.History.Lists.Select(list => (
    list.File, ListFiles.Write(Market.Week(Supplier.All.Single(s => s.Name == list.Supplier), list.Day)))));

if (args.Contains("--summary"))
{
    Console.Write(season.Summary());
    return 0;
}

List<string> different = [];
foreach ((string path, byte[] bytes) in files)
{
    string full = Path.Combine(root, path);
    if (!check)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        File.WriteAllBytes(full, bytes);
    }
    else if (!File.Exists(full) || !File.ReadAllBytes(full).AsSpan().SequenceEqual(bytes))
    {
        different.Add(path);
    }
}

foreach (string path in different)
{
    Console.Error.WriteLine($"{path}: not what the generator writes");
}

Console.WriteLine(check ? $"{files.Count - different.Count} of {files.Count} files as generated" : $"{files.Count} files written to {root}");
return different.Count == 0 ? 0 : 1;
