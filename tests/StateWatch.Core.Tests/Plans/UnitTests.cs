using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>Processors with their channels.</summary>
public class UnitTests
{
    private const string Feeds = "feeds: { room: { bus: main 1, out: stage 1-2 } }\n";

    // The demo's desk with units of two channels.
    private static readonly Lazy<DeskProfile> Desk = new(() => Written.Profile(DemoShow.ProfileText.Replace("Hush A: hush-1,",
        string.Concat("ABCDEFGHIJ".Select(letter => $"Twin {letter}: twin-{char.ToLowerInvariant(letter)}, ")) + "Hush A: hush-1,", StringComparison.Ordinal)));

    [Fact]
    public void Six_vocals_and_four_talkers_need_five_two_channel_units()
    {
        var items = Read("units: { Twin A: 2, Twin B: 2, Twin C: 2, Twin D: 2 }\nroles: { vocal: { to: [room] }, talker: { to: [room] } }\n"
            + "inputs: { 1-6: { role: vocal }, 7-10: { role: talker, insert: Twin D }, 1-2: { insert: Twin A }, 3-4: { insert: Twin B }, 5-6: { insert: Twin C } }");
        var item = Assert.Single(items);
        Assert.Equal(("unit-overbooked", "Twin D has 2 channels (5:43), but 4 strips take it: input/7, input/8, input/9, input/10", "6 vocal and 4 talker need 5 two-channel units; 4 are listed"),
            (item.Code.Id, item.Message, item.Advice));
    }

    [Fact]
    public void Ten_half_used_units_are_named_with_the_five_that_would_do()
    {
        var letters = "ABCDEFGHIJ";
        var items = Read($"units: {{ {string.Join(", ", letters.Select(letter => $"Twin {letter}: 2"))} }}\nroles: {{ vocal: {{ to: [room] }}, talker: {{ to: [room] }} }}\n"
            + $"inputs: {{ {string.Join(", ", letters.Select((letter, i) => $"{i + 1}: {{ name: Voice {i + 1}, role: {(i < 6 ? "vocal" : "talker")}, insert: Twin {letter} }}"))} }}");
        Assert.Equal(10, items.Count(item => item.Code.Id == "half-used"));
        Assert.Equal("Twin A has two channels, but only Voice 1 takes it: half of it is not used", items[0].Message);
        Assert.All(items, item => Assert.Equal("6 vocal and 4 talker need 5 two-channel units; 10 are listed", item.Advice));
    }

    [Theory]
    [InlineData("units: { Twin A: 2 }\ninputs: { 1-2: { to: [room], insert: Twin A } }")]
    [InlineData("units: { Hush A: 1 }\ninputs: { 1: { to: [room], insert: Hush A } }")]
    [InlineData("inputs: { 1-3: { to: [room], insert: Hush A } }")] // no list: nobody knows the channels
    [InlineData("units: { Twin A: 2 }\ninputs: { 1-2: { to: [room], insert: { 2: Twin A } } }")]
    public void Units_that_are_used_as_far_as_they_go_are_no_fault(string lines) => Assert.Empty(Read(lines));

    private static IReadOnlyList<Diagnostic> Read(string lines) => Written.ReadPlan(Feeds + lines, out _, Phase.Doors, Desk.Value);
}
