using Microsoft.Data.Sqlite;
using StateWatch.History;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.History;

/// <summary>A file is brought to the newest form step by step, with a copy before each; a step that fails changes nothing.</summary>
public sealed class SqliteMigrationTests : IDisposable
{
    private const string First = "CREATE TABLE note (number IDENTITY, said text)";
    private const string Second = "ALTER TABLE note ADD COLUMN author text DEFAULT 'Ada'";
    private const string Third = "CREATE TABLE extra (key text NOT NULL PRIMARY KEY) CLUSTERED; INSERT INTO extra VALUES ('x')";
    private readonly ScratchFolder _folder = new();
    private readonly List<string> _notices = [];

    private string Place => _folder.PathOf("some.db");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Each_step_has_a_copy_of_the_file_before_it()
    {
        using (var first = Open(First))
            first.Transact(session => Run(session, "INSERT INTO note (said) VALUES ('hello')"));
        Assert.Empty(_notices);
        using (var third = Open(First, Second, Third))
            Assert.Equal(["hello by Ada"], third.Work(static session => session.Ask("SELECT said || ' by ' || author FROM note", static row => row.GetString(0))));
        Assert.Equal(2, _notices.Count);
        Assert.Contains($"was brought from form 1 to 2. A copy of it as it was is {Place}.form-1", _notices[0], StringComparison.Ordinal);
        foreach (var (form, columns) in new[] { (1, 2), (2, 3) })
        {
            using var copy = new SqliteConnection($"Data Source={Place}.form-{form};Pooling=False;Mode=ReadOnly");
            copy.Open();
            using var command = copy.CreateCommand();
            command.CommandText = "SELECT * FROM note";
            using var row = command.ExecuteReader();
            Assert.True(row.Read());
            Assert.Equal((columns, "hello"), (row.FieldCount, row.GetString(1)));
        }

        _notices.Clear();
        using (var again = Open(First, Second, Third))
            Assert.Equal(1, again.Work(static session => session.Number("SELECT COUNT(*) FROM extra")));
        Assert.Empty(_notices);
    }

    [Fact]
    public void Step_that_fails_changes_nothing_and_is_told()
    {
        using (var first = Open(First))
            first.Transact(session => Run(session, "INSERT INTO note (said) VALUES ('hello')"));
        using (var broken = Open(First, Second + "; INSERT INTO nowhere VALUES (1)"))
            Assert.Contains("cannot be used", Assert.Throws<HistoryException>(() => broken.Work(static _ => 0)).Message, StringComparison.Ordinal);
        using var again = Open(First);
        Assert.Equal(["hello"], again.Work(static session => session.Ask("SELECT said FROM note", static row => row.GetString(0))));
    }

    private SqliteFile Open(params string[] migrations) => new(Place, migrations, "FULL", TimeProvider.System, _notices.Add);

    private static int Run(SqliteSession session, string sql)
    {
        session.Run(sql);
        return 0;
    }
}
