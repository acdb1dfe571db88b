namespace StateWatch.Core.Tests.Watching;

/// <summary>A watch goes on for days: what comes in and tells nothing costs no memory, whether the desk is asked in rounds or says what changes.</summary>
public class WatchAllocationTests
{
    [Fact]
    public void Answers_that_tell_nothing_new_allocate_nothing()
    {
        using var show = WatchedShow.Play("Kitchen");
        Assert.Equal(0, LeastOf(show));
        Assert.Empty(show.Told);
    }

    [Fact]
    public void Desk_on_which_nobody_touches_anything_allocates_nothing()
    {
        using var show = WatchedShow.Midwinter();
        Assert.Equal(0, LeastOf(show));
        Assert.Empty(show.Told);
    }

    // Less than half a second, so that of five tries some hold neither a second's status nor a journal.
    private static long LeastOf(WatchedShow show) => Allocations.Least(() => show.Run(0.15));
}
