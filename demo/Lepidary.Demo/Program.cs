using Lepidary.Demo;

// Writes the generated files of the public glasshouse into the folder given, or with --check compares them with what lies there.
bool check = args.Contains("--check");
string root = args.FirstOrDefault(arg => !arg.StartsWith('-')) ?? Path.Combine("demo", "public-glasshouse");

Season season = Season.Run();
List<(string Path, byte[] Bytes)> files = [("history.json", season.History.ToJson())];
List<(string File, IReadOnlyList<Meant> Offers)> unread = [];
foreach (History.ListRead list in season.History.Lists)
{
    List<Meant> meant = [];
    Supplier supplier = Supplier.All.Single(s => s.Name == list.Supplier);
    files.Add((list.File, ListFiles.Write(Market.Week(supplier, list.Day), meant)));
    if (list.Day == 0)
    {
        unread.Add((list.File, meant));
    }
}

files.Add(("meant.json", Meant.ToJson(unread)));

string[] faults = [.. Balance.Faults(season.History)];
if (faults.Length > 0)
{
    Console.Error.WriteLine(string.Join(Environment.NewLine, faults));
    return 2;
}

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
