namespace StateWatch.History;

/// <summary>Opens the history that watches keep on a PostgreSQL server, to read it.</summary>
internal static class HistoryServer
{
    /// <exception cref="HistoryException">It cannot be read.</exception>
    public static HistoryReader Open(string connection)
    {
        using var server = new PostgresServerPlace(connection);
        try
        {
            var session = new PostgresSession(server.Connect());
            try
            {
                session.Run("SET default_transaction_read_only = on");
                PostgresSchema.Check(session, server.Place);
                return new HistoryReader(server.Place, session, session);
            }
            catch
            {
                session.Dispose();
                throw;
            }
        }
        catch (Exception problem) when (PostgresServerPlace.IsFault(problem))
        {
            throw server.Fault(problem);
        }
    }
}
