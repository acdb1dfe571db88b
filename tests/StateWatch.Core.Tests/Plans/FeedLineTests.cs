using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>Feeds that leave the desk at several places, and feeds that are mono.</summary>
public class FeedLineTests
{
    [Theory]
    [InlineData("bus: mix 1, out: [stage 4, stage 2]", "", "mix 1", "", "mix 1")]
    [InlineData("bus: main 1, out: [stage 1-2, stage 3-4]", "main 1 left", "main 1 right", "main 1 left", "main 1 right")]
    [InlineData("bus: main 1, out: [stage 4, stage 2]", "", "main 1 right", "", "main 1 left")]
    [InlineData("bus: mix 1-2, out: [stage 1-2, stage 4, stage 3]", "mix 1", "mix 2", "mix 2", "mix 1")]
    [InlineData("bus: mix 3, out: stage 1-3", "mix 3", "mix 3", "mix 3", "")]
    public void Further_outputs_carry_the_same_signals_again(string feed, params string[] sources)
    {
        var plan = Written.Plan($"feeds: {{ fills: {{ purpose: front-fill, {feed} }} }}");
        Assert.Equal(sources, Enumerable.Range(1, 4).Select(n => plan.Allowed($"output/stage-{n}/source") ?? ""));
    }

    [Theory]
    [InlineData("delay: 5 ms", "5.0 ms", "5.0 ms")]
    [InlineData("delay: [5 ms, 8 ms]", "5.0 ms", "8.0 ms")]
    public void Delays_are_one_for_all_outputs_or_one_for_each_in_their_order(string delay, params string[] expected)
    {
        var plan = Written.Plan($"feeds: {{ fills: {{ bus: mix 1, purpose: front-fill, out: [stage 4, stage 2], {delay} }} }}");
        Assert.Equal(expected, new[] { "output/stage-4/delay", "output/stage-2/delay" }.Select(path => plan.Profile.Format(plan.For(plan.Profile.Find(path))!.Planned)));
    }

    [Theory]
    [InlineData("inputs: { 1-2: { stereo: true, to: [loop] } }")]
    [InlineData("inputs: { 1-2: { stereo: true } }")]
    [InlineData("inputs: { 1-2: { to: [loop] }, 2: { to: { loop: off } } }")]
    public void Pair_that_reaches_a_mono_feed_with_both_sides_or_none_and_what_is_no_pair_are_no_fault(string inputs) =>
        Assert.DoesNotContain(Written.ReadPlan($"feeds: {{ loop: {{ bus: mix 1, purpose: hearing-loop, out: stage 1, mono: true }} }}\n{inputs}", out _), item => item.Code.Id == "one-sided");

    [Fact]
    public void Missing_side_is_named() =>
        Assert.Equal("A 1 goes to 'loop', which is mono, but A 2 does not: half of the sound is missing there",
            Written.ReadPlan("feeds: { loop: { bus: mix 1, purpose: hearing-loop, out: stage 1, mono: true } }\ninputs: { 1-2: { name: \"A {n}\", stereo: true, to: [loop] }, 2: { to: { loop: -inf } } }", out _)
                .Single(item => item.Code.Id == "one-sided").Message);
}
