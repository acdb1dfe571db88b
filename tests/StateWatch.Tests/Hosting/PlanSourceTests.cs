using StateWatch.Commands;
using StateWatch.Hosting;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Hosting;

/// <summary>Files of a plan are read again when they have changed and come to rest; a profile that says the same stays the same.</summary>
public sealed class PlanSourceTests : IDisposable
{
    private readonly ScratchFolder _folder = new();
    private readonly string _plan;
    private readonly string _desk;

    public PlanSourceTests()
    {
        _desk = _folder.Write("larch-48.desk.yaml", File.ReadAllText(ShippedFiles.Desk));
        _plan = _folder.Write("midwinter.plan.yaml", File.ReadAllText(ShippedFiles.Plan).Replace("../desks/", "", StringComparison.Ordinal));
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Change_counts_when_two_looks_have_seen_the_same()
    {
        var source = new PlanSource(_plan);
        Assert.Null(source.Read().Fault);
        Assert.False(source.HasChanged());
        Append("# one");
        Assert.False(source.HasChanged());
        Append("# two");
        Assert.False(source.HasChanged());
        Assert.True(source.HasChanged());
        source.Read();
        Assert.False(source.HasChanged());
        File.AppendAllText(_desk, "# the profile too\n");
        Assert.False(source.HasChanged());
        Assert.True(source.HasChanged());
    }

    [Fact]
    public void Profile_that_says_the_same_is_the_same_object_and_any_change_shows_in_the_fingerprint()
    {
        var source = new PlanSource(_plan);
        var first = source.Read().Plan!;
        Append("# a remark");
        var second = source.Read().Plan!;
        Assert.Same(first.Profile, second.Profile);
        Assert.NotEqual(first.Fingerprint, second.Fingerprint);
        File.AppendAllText(_desk, "# a remark\n");
        var third = source.Read().Plan!;
        Assert.NotSame(second.Profile, third.Profile);
        Assert.NotEqual(second.Fingerprint, third.Fingerprint);
        Assert.Equal(third.Fingerprint, new PlanSource(_plan).Read().Plan!.Fingerprint);
    }

    [Fact]
    public void Faults_are_told_by_the_first_with_its_place_and_how_many_there_are()
    {
        var source = new PlanSource(_plan);
        source.Read();
        Append("nonsense: 1\nmore-nonsense: 2");
        var reading = source.Read();
        Assert.Null(reading.Plan);
        Assert.StartsWith($"{_plan}:", reading.Fault, StringComparison.Ordinal);
        Assert.EndsWith("(and 1 more)", reading.Fault, StringComparison.Ordinal);
    }

    [Fact]
    public void File_that_is_gone_is_a_change_and_reading_it_says_so()
    {
        var source = new PlanSource(_plan);
        source.Read();
        File.Delete(_plan);
        Assert.False(source.HasChanged());
        Assert.True(source.HasChanged());
        Assert.Equal(ExitCodes.NoInput, Assert.Throws<CommandException>(source.Read).ExitCode);
        Assert.False(source.HasChanged());
    }

    [Fact]
    public void Plan_that_is_saved_while_it_is_read_is_read_again()
    {
        // The plan has been read when its desk is looked for.
        var source = new PlanSource(_plan) { LooksFor = name => File.AppendAllText(_plan, name == _plan ? "" : "# saved meanwhile\n") };
        var first = source.Read().Plan!;
        Assert.False(source.HasChanged());
        Assert.True(source.HasChanged());
        Assert.NotEqual(first.Fingerprint, new PlanSource(_plan).Read().Plan!.Fingerprint);
    }

    [Fact]
    public void Profile_that_is_missing_counts_when_it_comes()
    {
        var text = File.ReadAllText(_desk);
        File.Delete(_desk);
        var source = new PlanSource(_plan);
        Assert.Null(source.Read().Plan);
        Assert.False(source.HasChanged());
        File.WriteAllText(_desk, text);
        Assert.False(source.HasChanged());
        Assert.True(source.HasChanged());
        Assert.NotNull(source.Read().Plan);
    }

    private void Append(string line) => File.AppendAllText(_plan, line + "\n");
}
