using CsCheck;
using StateWatch.Core.Findings;
using StateWatch.Recordings;

namespace StateWatch.Tests.Recordings;

/// <summary>What was recorded is decided again as it was.</summary>
public sealed class ReplayTests
{
    private static readonly Lazy<byte[]> Recorded = new(static () =>
    {
        using var day = new RecordedDay(7);
        day.Run(25);
        return day.Bytes();
    });

    [Fact]
    public void Any_day_with_a_bad_wire_orders_reloads_and_a_restart_is_replayed_as_it_was() => Gen.Int[1, 1_000_000].Sample(
        seed =>
        {
            using var day = new RecordedDay(seed);
            day.Run(20);
            day.ReplayIsTheSame(isInOrder: false);
            day.Restart();
            day.Run(15);
            day.ReplayIsTheSame(isInOrder: true);
        },
        iter: 10,
        threads: 1);

    [Fact]
    public void Recording_of_another_watch_is_no_proof_of_this_one()
    {
        var bytes = Recorded.Value;
        // One datagram less, and one order of somebody else: the first difference is told with its time.
        var changed = RecordingEdit.Of(bytes, (kind, payload, number) => kind == EntryKind.Order && number > 0 ? (kind, System.Text.Encoding.UTF8.GetBytes(
            System.Text.Encoding.UTF8.GetString(payload).Replace("Ada", "Eve", StringComparison.Ordinal))) : (kind, payload));
        var (result, fault) = ReplayRun.Of(new MemoryStream(changed));
        Assert.Null(fault);
        Assert.Matches("^at 2026-12-06T09:.*recorded was (show|journal|told) .*Ada.*, replayed is .*Eve", result!.Difference);
    }

    [Fact]
    public void Desk_that_said_something_else_gives_another_day()
    {
        var whole = ReplayRun.Of(new MemoryStream(Recorded.Value)).Result!;
        Assert.Contains(whole.Told, static alert => alert.Told.Level.Kind == LevelKind.Raised);
        // The last byte of an OSC message belongs to its last value.
        var other = RecordingEdit.Of(Recorded.Value, static (kind, payload, number) => (kind, kind == EntryKind.Datagram && number is > 300 and < 400 ? [.. payload[..^1], (byte)(payload[^1] ^ 1)] : payload));
        var (result, fault) = ReplayRun.Of(new MemoryStream(other));
        Assert.Null(fault);
        Assert.NotNull(result!.FirstDifference);
    }
}
