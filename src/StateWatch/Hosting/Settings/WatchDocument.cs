using StateWatch.Alerts;

namespace StateWatch.Hosting.Settings;

/// <summary>
/// The settings of a watch as written: in a JSON file, in environment variables. Everything is text, so that a wrong value is told with its key and
/// what to write instead. <see cref="SettingsKeys"/> has the same keys with what they mean; a test holds the two to each other.
/// </summary>
internal sealed class WatchDocument
{
    public string? Site { get; set; }

    /// <summary>By name.</summary>
    public Dictionary<string, DeskDocument> Desks { get; set; } = [];

    public string? State { get; set; }

    public string? Control { get; set; }

    public HttpDocument Http { get; set; } = new();

    public ListenDocument Messages { get; set; } = new();

    public HistoryDocument History { get; set; } = new();

    /// <summary>By name.</summary>
    public Dictionary<string, SinkSettings> Sinks { get; set; } = [];

    public string? Names { get; set; }

    public RecordDocument Record { get; set; } = new();

    public LogDocument Log { get; set; } = new();
}

/// <summary>One desk as written.</summary>
internal sealed class DeskDocument
{
    public string? Plan { get; set; }

    public string? Address { get; set; }

    public string? Phase { get; set; }
}

/// <summary>Something that listens, as written.</summary>
internal sealed class ListenDocument
{
    public string? Listen { get; set; }
}

/// <summary>Health and metrics as written.</summary>
internal sealed class HttpDocument
{
    public string? Listen { get; set; }

    public string? TokenFile { get; set; }
}

/// <summary>What is kept for how long, as written.</summary>
internal sealed class HistoryDocument
{
    public string? Days { get; set; }

    public string? Megabytes { get; set; }

    public string? FreeMegabytes { get; set; }

    public string? ConnectionFile { get; set; }
}

/// <summary>What is recorded, as written.</summary>
internal sealed class RecordDocument
{
    public string? Folder { get; set; }

    public string? Megabytes { get; set; }

    public string? Files { get; set; }
}

/// <summary>Where the log goes, as written.</summary>
internal sealed class LogDocument
{
    public string? Folder { get; set; }

    public string? Level { get; set; }

    public string? Megabytes { get; set; }

    public string? Files { get; set; }
}
