using CsCheck;
using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests.Auditing.Live;

/// <summary>What may happen to a desk between two judgements.</summary>
/// <param name="Kind">What happens.</param>
/// <param name="Seed">Where chance begins for it.</param>
/// <param name="Count">To how many settings, where that is open.</param>
internal sealed record DeskChange(DeskChangeKind Kind, int Seed, int Count)
{
    /// <summary>Mostly single changes and batches; now and then a lost answer, an incident or another generation.</summary>
    public static Gen<DeskChange> Any { get; } = Gen.Select(
        Gen.Frequency(
            (8, Gen.Const(DeskChangeKind.One)), (5, Gen.Const(DeskChangeKind.Batch)), (3, Gen.Const(DeskChangeKind.AsPlanned)), (3, Gen.Const(DeskChangeKind.Unseen)),
            (3, Gen.Const(DeskChangeKind.SeenAgain)), (2, Gen.Const(DeskChangeKind.Circle)), (2, Gen.Const(DeskChangeKind.Incident)), (1, Gen.Const(DeskChangeKind.Nothing)), (1, Gen.Const(DeskChangeKind.NewGeneration))),
        Gen.Int[0, int.MaxValue - 1], Gen.Int[2, 40], (kind, seed, count) => new DeskChange(kind, seed, count));

    /// <summary>Lets it happen, and notes every setting it touches.</summary>
    public void Happen(LiveDesk desk, IncidentScript incidents)
    {
        var random = new Random(Seed);
        switch (Kind)
        {
            case DeskChangeKind.One:
                Turn(desk, random);
                break;
            case DeskChangeKind.Batch:
                for (var i = 0; i < Count; i++)
                    Turn(desk, random);
                break;
            case DeskChangeKind.AsPlanned:
                foreach (var expectation in desk.Plan.Expectations)
                {
                    if (desk.State[expectation.Setting] != expectation.Planned && random.Next(2) == 0)
                        Apply(desk, expectation.Setting, expectation.Planned);
                }

                break;
            case DeskChangeKind.Unseen:
                for (var i = 0; i < Count; i++)
                {
                    var setting = Pick(desk, random);
                    desk.State.MarkUnseen(setting.Id, UnseenReason.NoReply);
                    desk.Live.Changed(setting.Id);
                }

                break;
            case DeskChangeKind.SeenAgain:
                foreach (var setting in desk.Plan.Profile.Settings)
                {
                    if (!desk.State.IsFresh(setting.Id) && random.Next(3) > 0)
                        Apply(desk, setting.Id, desk.Plan.For(setting.Id)?.Planned ?? setting.Reset);
                }

                break;
            case DeskChangeKind.Incident:
                foreach (var (setting, value) in incidents.Incidents[random.Next(incidents.Incidents.Count)].Set)
                    Apply(desk, setting, value);
                break;
            case DeskChangeKind.Circle:
                Circle(desk, random);
                break;
            case DeskChangeKind.NewGeneration:
                SettingValue[] values = [.. desk.Plan.Profile.Settings.Select(setting => desk.State[setting.Id])];
                desk.State.StartGeneration();
                var answered = random.Next(4);
                for (var setting = 0; setting < values.Length; setting++)
                {
                    if (values[setting].HasValue && random.Next(3) < answered)
                        Apply(desk, setting, values[setting]);
                }

                break;
        }
    }

    // Buses, patches and memberships reach furthest; of the many settings of inputs most decide little.
    private static Setting Pick(LiveDesk desk, Random random)
    {
        var settings = desk.Plan.Profile.Settings;
        for (var attempt = 0; ; attempt++)
        {
            var setting = settings[random.Next(settings.Count)];
            if (attempt > 400 || random.Next(4) == 0)
                return setting;
            var isBus = setting.Kind.StripKind is "group" or "mix" or "main" or "matrix" or "fx-return";
            if (random.Next(3) switch
            {
                0 => isBus || setting.Kind.StripKind is "output" or "dca" or "mute-group" or "desk",
                1 => isBus && (setting.Kind.Suffix.StartsWith("send/", StringComparison.Ordinal) || setting.Kind.Suffix.StartsWith("assign/", StringComparison.Ordinal)),
                _ => setting.Kind.Suffix is "source" or "assign/<bus>/#" or "dca/#" or "mute-group/#" or "on" or "fader" or "direct-out" or "linked" or "insert/#",
            })
                return setting;
        }
    }

    // Effects go back into each other's sends, or an input takes its signal from a bus it goes to.
    private static void Circle(LiveDesk desk, Random random)
    {
        foreach (var setting in desk.Plan.Profile.Settings)
        {
            if (setting.Kind.StripKind == "fx-return" && random.Next(2) == 0 && setting.Kind.Suffix is "send/<bus>/#/on" or "send/<bus>/#/level")
                Write(desk, setting, setting.Kind.Suffix.EndsWith("on", StringComparison.Ordinal) ? "on" : $"{-random.Next(20)} dB");
        }

        var source = desk.Plan.Profile.Find($"input/{random.Next(1, 49)}/source");
        if (source < 0 || desk.Plan.Profile.Settings[source].Codec.Words.Where(word => word.StartsWith("mix", StringComparison.Ordinal) || word.StartsWith("group", StringComparison.Ordinal)).ToArray() is not { Length: > 0 } buses)
            return;
        var bus = buses[random.Next(buses.Length)];
        var input = desk.Plan.Profile.Strips[desk.Plan.Profile.Settings[source].Strip].Path;
        Write(desk, desk.Plan.Profile.Settings[source], bus);
        foreach (var (path, text) in new[] { ("on", "on"), ("fader", "0 dB"), ($"assign/{bus.Replace(' ', '/')}", "on"), ($"send/{bus.Replace(' ', '/')}/on", "on"), ($"send/{bus.Replace(' ', '/')}/level", "-5 dB") })
        {
            if (desk.Plan.Profile.Find($"{input}/{path}") is >= 0 and var id)
                Write(desk, desk.Plan.Profile.Settings[id], text);
        }
    }

    private static void Write(LiveDesk desk, Setting setting, string text)
    {
        if (setting.Codec.TryParse(text, out var value, out _))
            Apply(desk, setting.Id, value);
    }

    private static void Turn(LiveDesk desk, Random random)
    {
        var setting = Pick(desk, random);
        if (Value(desk, setting, random) is { HasValue: true } value)
            Apply(desk, setting.Id, value);
    }

    private static SettingValue Value(LiveDesk desk, Setting setting, Random random)
    {
        var words = setting.Codec.Words.ToArray();
        if (random.Next(5) == 0)
            return desk.Plan.For(setting.Id)?.Planned ?? setting.Reset;
        var text = setting.Codec.Kind switch
        {
            ValueKind.Switch => desk.State[setting.Id].IsOn ? "off" : "on",
            ValueKind.Level => random.Next(5) == 0 ? "-inf dB" : $"{10 - random.Next(60)} dB",
            ValueKind.Choice or ValueKind.Point when words.Length > 0 => words[random.Next(words.Length)],
            ValueKind.Text => $"X{random.Next(9)}",
            _ => $"{random.Next(-100, 100)}",
        };
        return setting.Codec.TryParse(text, out var value, out _) ? value : default;
    }

    private static void Apply(LiveDesk desk, int setting, SettingValue value)
    {
        desk.State.Apply(setting, value);
        desk.Live.Changed(setting);
    }
}

internal enum DeskChangeKind
{
    Nothing,
    One,
    Batch,
    AsPlanned,
    Unseen,
    SeenAgain,
    Incident,
    Circle,
    NewGeneration,
}
