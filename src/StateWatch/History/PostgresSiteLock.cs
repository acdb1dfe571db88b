using Npgsql;

namespace StateWatch.History;

/// <summary>Keeps a second watch of one site away from its tables, as a file beside them does in a folder: a lock of the connection, which the server frees when that ends.</summary>
internal static class PostgresSiteLock
{
    // A number of our own beside which others may lock what they like: "SWHi".
    private const int Space = SqliteFile.ApplicationId;

    // lock_not_available (PostgreSQL, appendix A).
    private const string NotAvailable = "55P03";

    /// <summary>Takes it for as long as the connection stands.</summary>
    /// <exception cref="HistoryException">Another watch of this site has it.</exception>
    public static void Take(PostgresSession session, string site, string place)
    {
        // A connection of ours that broke without the server's knowing it holds the lock until the server looks: after 10 s and three questions of 5 s, not after two hours.
        session.Run("SET tcp_keepalives_idle = 10");
        session.Run("SET tcp_keepalives_interval = 5");
        session.Run("SET tcp_keepalives_count = 3");
        // One that was just closed may take a moment to end.
        session.Run("SET lock_timeout = 2000");
        try
        {
            session.Ask("SELECT pg_advisory_lock($1, hashtext(current_schema() || '/' || $2))::text", static _ => 0, Space, site);
        }
        catch (PostgresException problem) when (problem.SqlState == NotAvailable)
        {
            throw new HistoryException(
                $"Another watch of the site {site} keeps its history at {place}. Stop that one, or give this one another site or database; if it was this one, whose connection broke, the server finds that out within half a minute.", problem);
        }

        session.Run("RESET lock_timeout");
    }
}
