using System.Net;
using StateWatch.Alerts;
using StateWatch.Core.Plans;
using StateWatch.History;

namespace StateWatch.Hosting.Settings;

/// <summary>What a watch goes by; every value is sound, every path whole.</summary>
/// <param name="Site">Where this is.</param>
/// <param name="Desks">What is watched; at least one.</param>
internal sealed record WatchSettings(string Site, IReadOnlyList<DeskSettings> Desks)
{
    /// <summary>The socket for local control.</summary>
    public required string ControlSocket { get; init; }

    /// <summary>Where health and metrics are served, or null.</summary>
    public IPEndPoint? Http { get; init; }

    /// <summary>What whoever asks for them must know, or null.</summary>
    public string? HttpToken { get; init; }

    /// <summary>Where OSC messages are taken, or null.</summary>
    public IPEndPoint? Messages { get; init; }

    /// <summary>What is kept of the history, and where.</summary>
    public required HistoryOptions History { get; init; }

    /// <summary>How to reach the PostgreSQL server that keeps the history instead of files, with its password, or null.</summary>
    public string? HistoryConnection { get; init; }

    /// <summary>Who is told.</summary>
    public IReadOnlyList<SinkSettings> Sinks { get; init; } = [];

    /// <summary>Where a key was said, for messages.</summary>
    public Func<string, string>? PlaceOf { get; init; }

    /// <summary>What is recorded.</summary>
    public RecordSettings Record { get; init; } = new();

    /// <summary>The log.</summary>
    public LogSettings Log { get; init; } = new();
}

/// <summary>One desk that is watched.</summary>
/// <param name="Name">Its name within the site.</param>
/// <param name="Plan">Path of the plan.</param>
internal sealed record DeskSettings(string Name, string Plan)
{
    /// <summary>host:port instead of the profile's, or null.</summary>
    public string? Address { get; init; }

    /// <summary>The phase to begin with when nothing is remembered, or null.</summary>
    public Phase? Phase { get; init; }
}

/// <summary>Where recordings go, and how much is kept.</summary>
internal sealed record RecordSettings
{
    /// <summary>Folder for files, or null for none.</summary>
    public string? Folder { get; init; }

    /// <summary>How large a file may be, in MB (2^20 bytes).</summary>
    public int Megabytes { get; init; } = 200;

    /// <summary>How many are kept of each desk.</summary>
    public int Files { get; init; } = 10;
}

/// <summary>Where the log goes besides the console.</summary>
internal sealed record LogSettings
{
    /// <summary>Folder for files, or null.</summary>
    public string? Folder { get; init; }

    /// <summary>debug, information, warning or error.</summary>
    public string Level { get; init; } = "information";

    /// <summary>How large a file may be, in MB (2^20 bytes).</summary>
    public int Megabytes { get; init; } = 10;

    /// <summary>How many are kept.</summary>
    public int Files { get; init; } = 10;
}
