using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Capturing;

/// <summary>What must be so on the desk before a loop is measured, as far as the desk tells it; and what it does not tell.</summary>
/// <param name="Open">What is still to be put right, as sentences.</param>
/// <param name="Look">What nobody but a person can see on this desk, as sentences.</param>
public sealed record LoopChecks(IReadOnlyList<string> Open, IReadOnlyList<string> Look)
{
    private const int MostNamed = 8;

    // Sides of a stereo feed that differ by less are a rounding of pan.
    private const double EqualSides = 0.5;

    /// <summary>Settings beside the signal flow that are looked at.</summary>
    internal static IEnumerable<int> Settings(DeskProfile profile) => profile.Settings
        .Where(setting => setting.Kind.Suffix is "gate/on" or "comp/on" or "automix" or "limiter/in" or "insert/#" or "insert/#/in" or "pad").Select(setting => setting.Id);

    /// <summary>Before noise: the microphone does not go to the feed, whatever somebody unmutes, and no other one is open there.</summary>
    public static LoopChecks BeforeNoise(LoopWatch watch)
    {
        var (open, look) = (new List<string>(), new List<string>());
        if (watch.Unmuted > double.NegativeInfinity)
            open.Add($"{Name(watch)} goes to {watch.Loudspeaker.Words}{(double.IsNegativeInfinity(watch.Gain) ? " as soon as somebody unmutes it" : "")}: unassign it there, or switch its send off. A mute is not enough.");
        Others(watch, open);
        Limiters(watch, open, look);
        Pad(watch, look);
        return new LoopChecks(open, look);
    }

    /// <summary>Before a ring-out: the microphone goes to the feed and nowhere else, it is muted, and nothing on its way moves by itself.</summary>
    public static LoopChecks BeforeRing(LoopWatch watch)
    {
        var open = new List<string>();
        if (watch.Gain > double.NegativeInfinity)
            open.Add($"{Name(watch)} is open at {watch.Loudspeaker.Words}: mute it until a round begins.");
        if (watch.OnTheWay.Count == 0)
            open.Add($"{Name(watch)} does not go to {watch.Loudspeaker.Words}, even with nothing muted: keep it muted and switch it to there, with its level very low but not at -inf.");
        var (besides, look) = AfterRing(watch);
        return new LoopChecks([.. open, .. besides], look);
    }

    /// <summary>After a ring-out: the same, wherever the microphone's fader is now.</summary>
    public static LoopChecks AfterRing(LoopWatch watch)
    {
        var (open, look) = (new List<string>(), new List<string>());
        Others(watch, open);
        if (watch.OpenBesides() is { Count: > 0 } feeds)
            open.Add($"{Name(watch)} also goes to {List(feeds)}: mute those, or switch its sends to them off.");
        if (watch.Lopsided > EqualSides)
            open.Add($"{Name(watch)} is not equally loud on the outputs of {watch.Loudspeaker.Words}: pan it to the middle.");
        Limiters(watch, open, look);
        Dynamics(watch, open, look);
        Pad(watch, look);
        if (watch.Moved is { Count: > 0 } moved)
            open.Add($"{List(moved)} changed since the setup was noted: put it back, or begin again.");
        return new LoopChecks(open, look);
    }

    private static void Others(LoopWatch watch, List<string> open)
    {
        var microphones = watch.Plan.Microphones.Where(microphone => microphone.Strip.Id != watch.Microphone.Strip.Id).Select(microphone => microphone.Strip.Id).ToHashSet();
        var others = watch.Map.Strips.Where(strip => microphones.Contains(strip.Strip) && watch.IsOpen(strip)).Select(strip => Name(watch, strip.Strip)).ToList();
        if (others.Count > 0)
            open.Add($"{List(others)} {(others.Count == 1 ? "is" : "are")} open at {watch.Loudspeaker.Words} too: mute {(others.Count == 1 ? "it" : "them")}.");
    }

    private static void Limiters(LoopWatch watch, List<string> open, List<string> look)
    {
        var profile = watch.Plan.Profile;
        foreach (var output in watch.Outputs)
        {
            var id = profile.Find($"{output.Path}/limiter/in");
            if (id < 0 || !watch.State.IsFresh(id))
                look.Add($"The limiter of {output.Path} is in: this desk does not tell.");
            else if (!watch.State[id].IsOn)
                open.Add($"The limiter of {output.Path} is out: put it in.");
        }
    }

    // How much a pad takes off no setting tells.
    private static void Pad(LoopWatch watch, List<string> look)
    {
        var profile = watch.Plan.Profile;
        if (watch.Map.Strips.FirstOrDefault(strip => strip.Strip == watch.Microphone.Strip.Id) is not { } stages || watch.SocketGain(stages) is not (>= 0 and var gain))
            return;
        var socket = profile.Strips[profile.Settings[gain].Strip].Path;
        if (profile.Find($"{socket}/pad") is >= 0 and var pad && watch.State[pad].IsOn)
            look.Add($"The pad of {socket} stays in at all times: what it takes off is not counted, so the line holds only with it.");
    }

    // An inserted unit may be anything; the desk tells only that it is in.
    private static void Dynamics(LoopWatch watch, List<string> open, List<string> look)
    {
        var profile = watch.Plan.Profile;
        foreach (var strip in watch.StripsOnTheWay)
        {
            foreach (var id in profile.SettingsOf(strip).ToArray())
            {
                var setting = profile.Settings[id];
                if (setting.Kind.Suffix is not ("gate/on" or "comp/on" or "automix" or "insert/#/in"))
                    continue;
                var value = watch.State[id];
                var isInsert = setting.Kind.Suffix == "insert/#/in";
                if (isInsert && profile.Find(setting.Path[..^"/in".Length]) is >= 0 and var unit && watch.State[unit] == profile.Settings[unit].Reset)
                    continue;
                if (!value.HasValue)
                    look.Add($"The {setting.Kind.Words} of {Name(watch, strip)} is bypassed: it was not seen ({setting.Path}).");
                else if (value.Kind == ValueKind.Switch ? !value.IsOn : value == setting.Reset)
                    continue;
                else if (isInsert)
                    look.Add($"What is inserted on {Name(watch, strip)} ({setting.Path}) neither gates nor compresses nor notches by itself.");
                else
                    open.Add($"The {setting.Kind.Words} of {Name(watch, strip)} is on: bypass it.");
            }
        }
    }

    private static string Name(LoopWatch watch) => Name(watch, watch.Microphone.Strip.Id);

    private static string Name(LoopWatch watch, int strip)
    {
        var path = watch.Plan.Profile.Strips[strip].Path;
        return watch.Plan.Strips.FirstOrDefault(item => item.Strip.Id == strip) is { } planned && planned.Name != path ? $"{planned.Name} ({path})" : path;
    }

    private static string List(IReadOnlyList<string> names) =>
        string.Join(", ", names.Take(MostNamed)) + (names.Count > MostNamed ? $" and {names.Count - MostNamed} more" : "");
}
