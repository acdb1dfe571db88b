using StateWatch.Core.Desks;
using StateWatch.Core.Links;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

public class FullReadEndTests
{
    /// <summary>The desk says nothing more once the last question has been asked for the last time: it is that question's fault, not the desk's.</summary>
    [Fact]
    public void Question_given_up_last_ends_the_read_at_once_and_leaves_it_partial()
    {
        var desk = SmallDesk.Create();
        var mute = desk.Profile.Find("desk/oscillator");
        desk.Unanswered = new HashSet<int> { mute };
        using var memory = new MemoryDeskReader(desk);
        using var link = new SilentAfter(memory, desk.Profile.Settings[mute].Endpoint, desk.Profile.Link.Rounds);
        var state = new DeskState(desk.Profile);
        var report = new FullRead(desk.Profile, state, link, Enumerable.Range(0, desk.Profile.Settings.Count)).Run(cancel: TestContext.Current.CancellationToken);
        Assert.True(desk.Silent);
        Assert.Equal((ReadEnd.Partial, report.Questions - 1), (report.End, report.Answered));
        Assert.Equal((false, UnseenReason.NoReply), (state.IsFresh(mute), state.ReasonUnseen(mute)));
        // Six rounds of 150 ms, and no waiting for signs of life afterwards.
        Assert.InRange(report.Elapsed, TimeSpan.FromMilliseconds(900), TimeSpan.FromMilliseconds(1000));
    }

    /// <summary>Passes everything on, and silences the desk when a question is asked for the last time.</summary>
    private sealed class SilentAfter(MemoryDeskReader link, int endpoint, int times) : IDeskReader
    {
        private int _asked;

        public string Desk => link.Desk;

        public LinkCounters Counters => link.Counters;

        public TimeProvider Clock => link.Clock;

        public bool Ask(int question)
        {
            link.VirtualDesk.Silent |= question == endpoint && ++_asked == times;
            return link.Ask(question);
        }

        public int Receive(long deadline, IDatagramReceiver receiver) => link.Receive(deadline, receiver);

        public void Dispose() => link.Dispose();
    }
}
