using System.Data.Common;
using System.Net.Sockets;
using Npgsql;

namespace StateWatch.History;

/// <summary>A PostgreSQL server and how to reach it, and what went wrong with it in words. Its password is never shown.</summary>
internal sealed class PostgresServerPlace : IDisposable
{
    // Seconds; Npgsql waits 15.
    private const int ConnectWithin = 3;

    private readonly NpgsqlDataSource _source;

    /// <summary>Nothing is asked yet.</summary>
    /// <param name="connection">What Npgsql calls a connection string.</param>
    /// <exception cref="HistoryException">It makes no sense.</exception>
    public PostgresServerPlace(string connection)
    {
        try
        {
            var builder = new NpgsqlSlimDataSourceBuilder(connection);
            builder.EnableTransportSecurity();
            var settings = builder.ConnectionStringBuilder;
            settings.Pooling = false;
            settings.Enlist = false;
            settings.ApplicationName ??= "statewatch";
            settings.SearchPath ??= PostgresSchema.Name;
            // A desk must be watched, and alerts be told, while a server cannot be reached: nobody waits for it longer than it takes to answer.
            if (!settings.ShouldSerialize("Timeout"))
                settings.Timeout = ConnectWithin;
            ConnectTimeout = settings.Timeout;
            Place = $"{settings.Host}:{settings.Port}/{settings.Database}";
            _source = builder.Build();
        }
        catch (Exception problem) when (problem is ArgumentException or FormatException or NotSupportedException or InvalidOperationException)
        {
            throw new HistoryException($"The connection to PostgreSQL cannot be understood: {problem.Message.TrimEnd('.')}. Write it like 'Host=db.example;Database=statewatch;Username=watch'.", problem);
        }
    }

    /// <summary>For how many seconds it is tried to reach the server.</summary>
    public int ConnectTimeout { get; }

    /// <summary>Host, port and database.</summary>
    public string Place { get; }

    /// <summary>Whether it is a fault of the server, of the way there, or of what is stored there; others are our own.</summary>
    public static bool IsFault(Exception problem) => problem is DbException or SocketException or IOException or TimeoutException or InvalidOperationException;

    public NpgsqlConnection Connect() => _source.OpenConnection();

    public HistoryException Fault(Exception problem)
    {
        var (why, remedy) = problem switch
        {
            PostgresException { SqlState: "53100" } => ("the server's disk is full", "Free space there."),
            PostgresException { SqlState: "25006" } => ("the server takes nothing at the moment (read-only)", "Give the address of the server that takes writes."),
            PostgresException { SqlState: "28P01" or "28000" } => ("the server does not know this user or password", "Check user and password."),
            PostgresException { SqlState: "3D000" } => ("there is no such database", "Make it on the server, or give the name of another one."),
            PostgresException { SqlState: "42501" } => ("this user may not do that", "Give the user the right to make and change tables in its schema."),
            PostgresException => ("the server refuses", "Look at the server's log."),
            _ => ("it does not answer", "Check that the server runs and that the network reaches it."),
        };
        return new HistoryException($"The history at {Place} cannot be used: {why}. {remedy} It is tried again with the next thing to store. ({problem.Message.TrimEnd('.')})", problem)
        {
            IsFull = problem is PostgresException { SqlState: "53100" },
        };
    }

    public void Dispose() => _source.Dispose();
}
