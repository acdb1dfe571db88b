using StateWatch.Core.Desks;
using StateWatch.Core.Links;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks.Following;

/// <summary>A link to a desk that, while it is deaf, does not get questions that begin with certain bytes.</summary>
internal sealed class DeafTo : IDisposable
{
    public DeafTo(string hex, VirtualDesk desk)
    {
        var (state, link) = (new DeskState(desk.Profile), new MemoryDeskReader(desk));
        var follower = new DeskFollower(desk.Profile, state, new Ear(this, link, Convert.FromHexString(hex)), Enumerable.Range(0, desk.Profile.Settings.Count));
        Followed = new FollowedDesk(desk, link, state, follower);
    }

    public bool IsDeaf { get; set; }

    public FollowedDesk Followed { get; }

    /// <summary>When each question was sent, heard or not.</summary>
    public List<long> AskedAt { get; } = [];

    public void Dispose() => Followed.Dispose();

    private sealed class Ear(DeafTo owner, MemoryDeskReader link, byte[] beginning) : IDeskReader
    {
        public string Desk => link.Desk;

        public LinkCounters Counters => link.Counters;

        public TimeProvider Clock => link.Clock;

        public bool Ask(int question)
        {
            owner.AskedAt.Add(Clock.GetTimestamp());
            return (owner.IsDeaf && link.VirtualDesk.Profile.QuestionOf(question).AsSpan().StartsWith(beginning)) || link.Ask(question);
        }

        public int Receive(long deadline, IDatagramReceiver receiver) => link.Receive(deadline, receiver);

        public void Dispose() => link.Dispose();
    }
}
