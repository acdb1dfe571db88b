using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;
using StateWatch.Links;
using StateWatch.Simulator;

namespace StateWatch.Tests.Links;

/// <summary>A desk on a real socket sends what changes to whoever keeps it alive.</summary>
[Collection(SocketsGroup.Name)]
public class FollowOverUdpTests
{
    // A round takes an hour, so what is seen was sent.
    private static readonly DeskProfile Profile = LoopbackDesk.Read("""
        format: statewatch/desk/1
        desk: Fern 21
        identify: { ask: /who, expect: [fern] }
        link: { osc: udp, to: 127.0.0.1:9050 }
        strips: { input: 20 }
        codecs: { bulb: { wire: bool, switch: [0, 1] } }
        settings:
          "desk/oscillator": { at: "/hum", args: [bulb] }
          "input/{i}/on":    { at: "/berth/{i:02}/live", args: [bulb], reset: on }
        follow: { keep-alive: { ask: /stay, every: 200 ms, lasts: 30 s }, round: 3600 s, lost-after: 30 s }
        """);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Changes_come_to_both_who_keep_the_desk_alive(bool faulty)
    {
        var wire = faulty ? new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(1), DelayMost = TimeSpan.FromMilliseconds(5), Duplicates = 0.2 } : null;
        using var desk = UdpVirtualDesk.Start(new VirtualDesk(Profile), toDesk: wire, fromDesk: wire);
        using var first = UdpDeskReader.Open(Profile, port: desk.EndPoint.Port);
        using var second = UdpDeskReader.Open(Profile, port: desk.EndPoint.Port);
        var followers = new[] { Follow(first), Follow(second) };
        Until(followers, () => followers.All(follower => follower.Phase == FollowPhase.Following));
        var (hum, live) = (Profile.Find("desk/oscillator"), Profile.Find("input/7/on"));
        desk.Set(hum, SettingValue.Switch(true));
        desk.Set(live, SettingValue.Switch(false));
        Until(followers, () => followers.All(follower => follower.State[hum].IsOn && !follower.State[live].IsOn));
        Assert.All(followers, follower => Assert.Equal(1, follower.Session));
        Assert.Equal(0, desk.Use(item => item.Counters.Sets + item.Counters.Unknown + item.Counters.Malformed));
    }

    private static DeskFollower Follow(UdpDeskReader reader) =>
        new(Profile, new DeskState(Profile), reader, Enumerable.Range(0, Profile.Settings.Count));

    private static void Until(DeskFollower[] followers, Func<bool> isSo)
    {
        var end = Environment.TickCount64 + 30_000;
        while (!isSo())
        {
            Assert.True(Environment.TickCount64 < end, "This did not happen within 30 s.");
            foreach (var follower in followers)
                follower.Next(TimeProvider.System.GetTimestamp() + (TimeProvider.System.TimestampFrequency / 200));
        }
    }
}
