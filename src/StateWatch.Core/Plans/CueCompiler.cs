using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Compiles the cue a plan is wanted for: what is open and closed at it, and the lines that hold while it lasts.</summary>
internal sealed class CueCompiler(PlanDocument document, DeskProfile profile, PlanNames names, StatementTable table, StripCompiler strips, DiagnosticBag diagnostics)
{
    private readonly Lazy<StripNames> _strips = new(() => new StripNames(document, strips.Planned, names, diagnostics));
    private CueStates? _states;

    /// <summary>Names of the compiled cue that change nothing.</summary>
    public IReadOnlyList<ScalarNode> Needless => _states?.Needless() ?? [];

    /// <summary>Looks for unknown names and contradictions in every cue, without compiling one.</summary>
    /// <param name="isIncomplete">Whether strips are missing because of faults that are told elsewhere.</param>
    public void CheckAll(bool isIncomplete)
    {
        foreach (var line in document.Cues)
        {
            _ = Resolve(line, isIncomplete);
            foreach (var (path, _) in line.Settings)
            {
                foreach (var one in PathRanges.Expand(path, table.Limit) ?? [])
                    _ = table.Find(one, path.At, path.Text);
            }
        }
    }

    /// <summary>Says what one cue says, apart from its settings.</summary>
    public PlannedCue Compile(CueLine line)
    {
        var cue = Resolve(line, isIncomplete: false);
        foreach (var input in line.Inputs)
            SayInputs(input);
        foreach (var opening in cue.Open)
        {
            // Of several that will do, none is expected by itself.
            if (opening.Strips is [var strip] && profile.Find($"{strip.Strip.Path}/on") is >= 0 and var on)
                table.SayById(on, on: true, opening.Said.At, Ranks.Narrowed(Ranks.CueOpen, opening.Width));
        }

        return cue;
    }

    /// <summary>Takes away what is expected of mutes that the cue leaves to its rules; what the cue's own lines say of them stays.</summary>
    public void Relax(List<Expectation> expectations, PlannedCue cue)
    {
        int On(PlannedStrip strip) => profile.Find($"{strip.Strip.Path}/on");
        var alternatives = cue.Open.Where(item => item.Strips.Count > 1).SelectMany(item => item.Strips).Select(On).ToHashSet();
        var closed = cue.Closed.Select(item => On(item.Strip)).ToHashSet();
        expectations.RemoveAll(item => (item.Rank < Ranks.Cue && alternatives.Contains(item.Setting))
            || ((item.Rank < Ranks.Cue || item.Planned.IsOn) && closed.Contains(item.Setting)));
    }

    private void SayInputs(StripLine line)
    {
        for (var i = 0; i < line.Numbers.Count; i++)
        {
            var path = $"input/{line.Numbers[i]}";
            if (strips.Planned.FirstOrDefault(item => item.Strip.Path == path) is not { } strip)
            {
                diagnostics.Add(PlanCodes.NoSuchStrip, line.Key.At, $"no line under inputs names input {line.Numbers[i]}, so a cue cannot change it", "give it a line under inputs, or leave it out here");
                return;
            }

            strips.SayStrip(path, line.Keys, i, line.Numbers.Count, Ranks.Narrowed(Ranks.Cue, line.Numbers.Count), Ranks.Narrowed(Ranks.Cue, line.Numbers.Count), strip.Socket);
        }
    }

    private PlannedCue Resolve(CueLine line, bool isIncomplete)
    {
        var stated = _states = new CueStates(diagnostics);
        if (line.Open.Count + line.Closed.Count > 0 || line.Effects is not null)
        {
            _strips.Value.IsIncomplete = isIncomplete;
            foreach (var name in line.Open)
                stated.Say(name, _strips.Value.Strips(name), open: true);
            foreach (var name in line.Closed)
                stated.Say(name, _strips.Value.Strips(name), open: false);
            if (line.Effects is { } effects)
            {
                if (_strips.Value.Effects.Count == 0 && !isIncomplete)
                    diagnostics.Add(PlanCodes.NoSuchStrip, effects.At, "no effect of this plan has a return, so nothing can open or close them", "add return: fx-return 1 to an effect, or leave this out");
                stated.Say(new ScalarNode(effects.At, "effects", plain: true), _strips.Value.Effects, effects.Text == "open");
            }
        }

        var (open, closed) = stated.Resolve(strips.Planned);
        foreach (var (strip, said) in open.SelectMany(item => item.Strips.Select(strip => (strip, item.Said))).Concat(closed.Select(item => (item.Strip, item.Said))))
            CheckSeen(strip, said);
        return new PlannedCue(line.Key.Text, line.Key.At, line.Settle, open, closed);
    }

    // Without mute and fader nobody could ever tell whether it is open.
    private void CheckSeen(PlannedStrip strip, ScalarNode said)
    {
        if (profile.Find($"{strip.Strip.Path}/on") < 0 && profile.Find($"{strip.Strip.Path}/fader") < 0)
            _ = table.Find($"{strip.Strip.Path}/on", said.At);
    }
}
