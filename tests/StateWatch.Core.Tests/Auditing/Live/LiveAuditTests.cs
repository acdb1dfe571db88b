using CsCheck;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Auditing.Live;

public class LiveAuditTests
{
    /// <summary>Of so many settings on a desk full of faults one is turned, by chance; STATEWATCH_OF_SETTINGS gives another number, and 1 is all of them.</summary>
    private static int OneOf { get; } = TestNumber.Of("STATEWATCH_OF_SETTINGS", 4);

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void Whatever_happens_it_tells_what_judging_everything_anew_tells(string show)
    {
        var shipped = ShippedShow.Of(show);
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (phase, cue) in new[] { (Phase.Soundcheck, null), (Phase.Doors, null), (Phase.Show, null), (Phase.Show, FirstCue(shipped)) })
        {
            var happenings = DeskChange.Any.Array[180].Generate(new PCG((uint)phase + (cue is null ? 0U : 10U), (ulong)TestSeed.Value), null, out _);
            var desk = new LiveDesk(shipped.Plan(phase, cue));
            for (var step = 0; step < happenings.Length; step++)
            {
                var when = $"seed {TestSeed.Value}, {phase} {cue}, step {step}, {happenings[step]}";
                happenings[step].Happen(desk, shipped.Incidents);
                desk.JudgeAndCompare(when);
                foreach (var check in desk.Live.Reports)
                    told.Add(desk.Live.RuleOf(check).Id);
                if (step % 12 == 11)
                    desk.CompareWithFresh(when);
            }
        }

        Assert.True(told.Count > 30, string.Join(' ', told));
        Assert.Superset(new HashSet<string>(StringComparer.Ordinal) { "electrical-loop", "must-carry-silent", "carried-against-plan", "double-routed" }, told);
    }

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void On_a_clean_desk_every_setting_that_decides_anything_is_known_to_do_so(string show) => TurnSettings(show, 0, 1);

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void On_a_desk_full_of_faults_settings_that_decide_anything_are_known_to_do_so(string show) => TurnSettings(show, 60, OneOf);

    // One setting at a time is turned, judged, and turned back: what looks at a setting it does not name would say something else when everything is judged anew.
    private static void TurnSettings(string show, int happenings, int oneOf)
    {
        var shipped = ShippedShow.Of(show);
        var desk = new LiveDesk(shipped.Plan(Phase.Show, FirstCue(shipped)));
        foreach (var happening in DeskChange.Any.Array[happenings].Generate(new PCG(7, (ulong)TestSeed.Value), null, out _))
        {
            if (happening.Kind is not (DeskChangeKind.AsPlanned or DeskChangeKind.NewGeneration))
                happening.Happen(desk, shipped.Incidents);
        }

        // By chance, since settings of a kind come at regular distances.
        var numbers = new SeededNumbers((ulong)TestSeed.Value);
        foreach (var setting in desk.Plan.Profile.Settings)
        {
            var (before, wasFresh) = (desk.State[setting.Id], desk.State.IsFresh(setting.Id));
            if (numbers.NextBelow(oneOf) != 0 || !TurnOnce(setting, before, desk.State))
                continue;
            desk.Live.Changed(setting.Id);
            desk.JudgeAndCompare($"{setting.Path} = {desk.Plan.Profile.Format(desk.State[setting.Id])}");
            if (wasFresh)
                desk.State.Apply(setting.Id, before);
            else
                desk.State.MarkUnseen(setting.Id, UnseenReason.NoReply);
            desk.Live.Changed(setting.Id);
        }

        desk.JudgeAndCompare("everything back");
        desk.CompareWithFresh("everything back");
    }

    private static string? FirstCue(ShippedShow shipped) => shipped.Cues is [var first, ..] ? first : null;

    private static bool TurnOnce(Setting setting, SettingValue before, DeskState state)
    {
        var words = setting.Codec.Words.ToArray();
        foreach (var text in (string[])["on", "off", "-inf dB", "5 dB", words.Length > 0 ? words[^1] : "none", "7"])
        {
            if (!setting.Codec.TryParse(text, out var value, out _) || value == before)
                continue;
            state.Apply(setting.Id, value);
            return true;
        }

        return false;
    }
}
