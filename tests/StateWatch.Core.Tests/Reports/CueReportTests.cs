using System.Text.Json;
using System.Xml.Linq;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

/// <summary>A sweep at a cue says in every report at which, and what is wrong there in words.</summary>
public class CueReportTests
{
    public const string Cues = "\ncues: { Sermon: { open: [Lectern], closed: [choir], effects: muted }, Song: { open: [choir] } }\n";

    [Fact]
    public void Engineer_reads_the_cue_in_the_head_and_the_plan_line_of_each_finding()
    {
        var text = EngineerText.Write(Results.Of("cue"));
        Assert.Contains("Midwinter gathering, phase show, cue Sermon, ", text, StringComparison.Ordinal);
        Assert.Contains("URGENT: Lectern (input 25) is muted; it should be open at cue Sermon", text, StringComparison.Ordinal);
        Assert.Contains("planned open, live closed; midwinter.plan.yaml:", text, StringComparison.Ordinal);
        Assert.Contains("URGENT: Choir 1 (input 17) is open at cue Sermon; it should be closed", text, StringComparison.Ordinal);
        Assert.DoesNotContain(", cue ", EngineerText.Write(Results.Of("clean")), StringComparison.Ordinal);
    }

    [Fact]
    public void Volunteer_reads_the_cue_first()
    {
        var text = VolunteerText.Write(Results.Of("cue"));
        Assert.StartsWith("Cue Sermon. NOT READY: 2 things to fix, all urgent.\n 1. Lectern (input 25) is muted, should be open: nothing of it is heard. Fader down first, then", text, StringComparison.Ordinal);
        Assert.Contains("for show at cue Sermon, ", text, StringComparison.Ordinal);
        Assert.StartsWith("READY", VolunteerText.Write(Results.Of("clean")), StringComparison.Ordinal);
    }

    [Fact]
    public void Volunteer_tries_no_microphone_that_the_cue_closes()
    {
        var lines = Cues.Replace("Sermon: { open: [Lectern], closed: [choir]", "Sermon: { open: [choir], closed: [talker]", StringComparison.Ordinal);
        var text = VolunteerText.Write(new Midwinter(Phase.Show, lines, "Sermon").Sweep());
        Assert.Contains("say \"one two\" into ", text, StringComparison.Ordinal);
        Assert.DoesNotContain("into Lectern", text, StringComparison.Ordinal);
        Assert.DoesNotContain("into Headset", text, StringComparison.Ordinal);
        Assert.DoesNotContain("into Handheld", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Programs_read_the_cue_only_when_there_is_one()
    {
        Assert.Equal("Sermon", JsonDocument.Parse(SweepJson.Write(Results.Of("cue"))).RootElement.GetProperty("cue").GetString());
        Assert.False(JsonDocument.Parse(SweepJson.Write(Results.Of("clean"))).RootElement.TryGetProperty("cue", out _));
        Assert.Equal(["Sermon"], CueOf("cue"));
        Assert.Empty(CueOf("clean"));
    }

    [Theory]
    [InlineData("Sermon", "input/25/on", "planned on", "what the cue says is locked")]
    [InlineData("Sermon", "input/17/on", "closed at cue Sermon (midwinter.plan.yaml:", "phase show, cue Sermon: class mutes is left to the rules")]
    [InlineData("Song", "input/25/on", "no line of the plan says anything", "phase show, cue Song: class mutes is free")]
    public void Explanation_says_what_the_cue_makes_of_a_setting(string cue, string path, params string[] words)
    {
        var plan = new Midwinter(Phase.Show, Cues, cue).Plan;
        var text = SettingExplanation.Write(plan, plan.Profile.Find(path));
        Assert.All(words, word => Assert.Contains(word, text, StringComparison.Ordinal));
    }

    [Fact]
    public void Setting_left_to_the_eye_at_a_cue_is_on_its_list_only()
    {
        var lines = Cues.Replace("Song: { open: [choir] }", "Song: { open: [choir], settings: { \"group/1/polarity\": { be: on, by-eye: true } } }", StringComparison.Ordinal);
        Assert.Equal(["Voices (group 1): polarity is on"], ByEyeList.Of(new Midwinter(Phase.Show, lines, "Song").Plan));
        Assert.Empty(ByEyeList.Of(new Midwinter(Phase.Show, lines, "Sermon").Plan));
        Assert.Empty(ByEyeList.Of(new Midwinter(Phase.Show, lines).Plan));
    }

    private static IEnumerable<string> CueOf(string name) => XDocument.Parse(SweepJunit.Write(Results.Of(name))).Descendants("property")
        .Where(property => property.Attribute("name")!.Value == "cue").Select(property => property.Attribute("value")!.Value);
}
