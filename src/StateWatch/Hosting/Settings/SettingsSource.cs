using System.Collections;
using StateWatch.Commands;
using StateWatch.Files;

namespace StateWatch.Hosting.Settings;

/// <summary>Where settings come from: a JSON file, and above it environment variables. Knows where each key was said.</summary>
internal sealed class SettingsSource
{
    /// <summary>What the variables begin with; levels are parted by two underscores.</summary>
    public const string Prefix = "STATEWATCH_";

    private const int MostBytes = 1 << 20;

    private readonly JsonPlaces _places;
    private readonly Dictionary<string, string> _variables;

    private SettingsSource(string? file, JsonPlaces places, Dictionary<string, string> variables, IConfigurationRoot configuration)
    {
        File = file;
        _places = places;
        _variables = variables;
        Configuration = configuration;
    }

    /// <summary>The file, or null when there is none.</summary>
    public string? File { get; }

    /// <summary>What was said.</summary>
    public IConfigurationRoot Configuration { get; }

    /// <summary>What is wrong with the file as such.</summary>
    public SettingsFault? Fault => _places.Fault is { } fault ? new SettingsFault($"{File}:{fault.At}", "", fault.Words) : null;

    /// <summary>Reads what there is.</summary>
    /// <param name="file">A JSON file, or null.</param>
    /// <param name="environment">The variables of the process.</param>
    /// <exception cref="CommandException">The file cannot be read (exit 66).</exception>
    public static SettingsSource Read(string? file, IDictionary environment)
    {
        var builder = new ConfigurationBuilder();
        var places = new JsonPlaces();
        if (file is not null)
        {
            var bytes = Bytes(file);
            places = JsonPlaces.Read(bytes);
            if (places.Fault is null)
                builder.AddJsonStream(new MemoryStream(bytes));
        }

        var variables = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        var values = new List<KeyValuePair<string, string?>>();
        foreach (DictionaryEntry entry in environment)
        {
            if (entry.Key is not string name || !name.StartsWith(Prefix, StringComparison.Ordinal))
                continue;
            var path = name[Prefix.Length..].Replace("__", ":", StringComparison.Ordinal);
            variables[path] = name;
            values.Add(new(path, entry.Value as string));
        }

        builder.AddInMemoryCollection(values);
        return new SettingsSource(file, places, variables, builder.Build());
    }

    /// <summary>Where a key was said: <c>file:line:column</c>, or the variable's name.</summary>
    public string PlaceOf(string path) => VariableOf(path) is { } name ? $"environment {name}" : $"{File}:{_places.Of(path)}";

    /// <summary>Whether the file has a list of items without names there.</summary>
    public bool IsList(string path) => _places.IsList(path);

    /// <summary>The variable that says a key, or null.</summary>
    public string? VariableOf(string path) => _variables.GetValueOrDefault(path)
        ?? (_places.Has(path) ? null : _variables.FirstOrDefault(pair => pair.Key.StartsWith(path + ":", StringComparison.OrdinalIgnoreCase)).Value);

    /// <summary>A path as it was meant: one in the file is relative to the file, one in a variable to where the program was started.</summary>
    public string Resolve(string path, string value) =>
        VariableOf(path) is not null || File is null ? Path.GetFullPath(value) : Path.GetFullPath(value, Path.GetDirectoryName(Path.GetFullPath(File))!);

    private static byte[] Bytes(string file)
    {
        byte[] bytes;
        try
        {
            bytes = BoundedFile.Read(file);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            var why = problem switch
            {
                FileNotFoundException or DirectoryNotFoundException => "it is not there",
                UnauthorizedAccessException => "permission denied",
                _ => problem.Message,
            };
            throw new CommandException(ExitCodes.NoInput, $"statewatch: {file}: cannot read these settings: {why}; give another file with --settings");
        }

        if (bytes.Length > MostBytes)
            throw new CommandException(ExitCodes.Invalid, $"{file}: this file has more than {MostBytes:N0} bytes, and settings are a page of text: is this the right file?");
        return bytes.AsSpan().StartsWith("\uFEFF"u8) ? bytes[3..] : bytes;
    }
}

/// <summary>Something wrong with settings.</summary>
/// <param name="At"><c>file:line:column</c>, or the variable's name.</param>
/// <param name="Key">The key, or empty for the file as a whole.</param>
/// <param name="Words">What is wrong, and what to do.</param>
internal readonly record struct SettingsFault(string At, string Key, string Words)
{
    public override string ToString() => Key.Length == 0 ? $"{At}: {Words}" : $"{At}: {Key}: {Words}";
}
