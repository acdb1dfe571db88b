using System.Reflection;
using System.Text;
using System.Text.RegularExpressions;
using StateWatch.Core.Desks;
using StateWatch.Core.Links;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>Reading a desk can never change it.</summary>
public class OnlyReadsTests
{
    private static readonly WireFaults Bad = new()
    {
        Loss = 0.05,
        Duplicates = 0.05,
        DelayLeast = TimeSpan.FromMilliseconds(0.2),
        DelayMost = TimeSpan.FromMilliseconds(8),
        Reordered = 0.05,
    };

    /// <summary>The questions that may be sent are a list written by hand beside the profile.</summary>
    [Theory]
    [InlineData("larch-48", 1)]
    [InlineData("larch-48", 2)]
    [InlineData("larch-48", 3)]
    [InlineData("ouzel-64", 4)]
    public void Whole_desk_is_read_over_a_bad_wire_and_stays_as_it_was(string name, ulong seed)
    {
        var profile = ShippedDesk.Of(name).Profile;
        var desk = new VirtualDesk(profile);
        var numbers = new SeededNumbers(seed);
        foreach (var setting in profile.Settings.Where(setting => setting.Codec.Words.Any()))
            desk.Set(setting.Path, setting.Codec.Words.ElementAt(numbers.NextBelow(setting.Codec.Words.Count())));
        var (fingerprint, revision) = (desk.Fingerprint, desk.Revision);

        using var link = new MemoryDeskReader(desk, Bad, Bad, seed);
        var state = new DeskState(profile);
        var report = new FullRead(profile, state, link, Enumerable.Range(0, profile.Settings.Count)).Run(cancel: TestContext.Current.CancellationToken);

        Assert.Equal((ReadEnd.Complete, profile.Endpoints.Count), (report.End, report.Answered));
        Assert.Equal([], profile.Settings.Where(setting => state[setting.Id] != desk[setting.Id]).Select(setting => setting.Path));
        Assert.Equal((fingerprint, revision), (desk.Fingerprint, desk.Revision));
        Assert.Equal((0L, 0L, 0L), (desk.Counters.Sets, desk.Counters.Unknown, desk.Counters.Malformed));
        Assert.True(link.SentDatagrams.Count > report.Questions, "Nothing was lost, so nothing was asked again.");
        Assert.Equal(0, link.SentDatagrams.Missed);
        var allowed = ShippedDesk.Of(name).Questions;
        Assert.Equal([], link.SentDatagrams.ToArrays().Where(datagram => !IsBareQuestion(datagram, allowed)).Select(Convert.ToHexString));
    }

    [Fact]
    public void List_of_questions_refuses_what_sets()
    {
        var allowed = ShippedDesk.Of("larch-48").Questions;
        Assert.True(IsBareQuestion(ShippedDesk.Of("larch-48").Profile.Endpoints[0].Question, allowed));
        // The bench's tone, with a 1; and an address the list does not have.
        Assert.False(IsBareQuestion(Convert.FromHexString("2F62656E63682F746F6E65002C69000000000001"), allowed));
        Assert.False(IsBareQuestion(Convert.FromHexString("2F62656E63682F746F6E65732C000000"), allowed));
    }

    /// <summary>The seam that a session holds: numbers, and somebody who listens; nothing that could carry bytes or a value to a desk.</summary>
    [Fact]
    public void Nothing_that_can_be_handed_to_a_reader_carries_a_value()
    {
        var seam = typeof(IDeskReader);
        Assert.Equal([typeof(IDisposable)], seam.GetInterfaces());
        var methods = seam.GetMethods(BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Instance | BindingFlags.Static);
        Assert.Equal(["Ask(Int32)", "Receive(Int64, IDatagramReceiver)", "get_Clock()", "get_Counters()", "get_Desk()"],
            methods.Select(method => $"{method.Name}({string.Join(", ", method.GetParameters().Select(parameter => parameter.ParameterType.Name))})").Order(StringComparer.Ordinal));
        // What it gives back has no way to a desk either: a text, counts, a clock.
        Assert.Equal([typeof(string), typeof(LinkCounters), typeof(TimeProvider)], seam.GetProperties().Select(property => property.PropertyType));
    }

    /// <summary>OSC 1.0: the address, one to four nulls up to a multiple of four, a comma, three nulls, the end. Read without our decoder.</summary>
    private static bool IsBareQuestion(byte[] datagram, Regex[] allowed)
    {
        var end = Array.IndexOf(datagram, (byte)0);
        if (end < 1)
            return false;
        var address = Encoding.ASCII.GetString(datagram, 0, end);
        var padded = (end / 4 * 4) + 4;
        return datagram.Length == padded + 4 && datagram.AsSpan(end, padded - end).IndexOfAnyExcept((byte)0) < 0
            && datagram.AsSpan(padded).SequenceEqual(",\0\0\0"u8) && Array.Exists(allowed, pattern => pattern.IsMatch(address));
    }
}
