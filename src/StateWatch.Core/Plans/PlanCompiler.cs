using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>
/// Compiles a plan for one desk and one phase. Every fault in it is reported at once; a plan with errors is never returned.
/// </summary>
public sealed class PlanCompiler
{
    private readonly PlanDocument _document;
    private readonly DeskProfile _profile;
    private readonly Phase _phase;
    private readonly DiagnosticBag _diagnostics;
    private readonly PlanNames _names;
    private readonly StatementTable _table;
    private readonly int _errorsBefore;
    private readonly bool _wasMisread;

    private readonly CueLine? _cue;

    private PlanCompiler(PlanDocument document, DeskProfile profile, Phase phase, DiagnosticBag diagnostics, CueLine? cue)
    {
        _cue = cue;
        _document = document;
        _profile = profile;
        _phase = phase;
        _diagnostics = diagnostics;
        _errorsBefore = diagnostics.ErrorCount;
        _wasMisread = diagnostics.Items.Any(item => item.Code.Level == DiagnosticLevel.Error && item.At.File == document.File);
        _names = new PlanNames(diagnostics);
        _table = new StatementTable(profile, new ToleranceTable(document.Tolerances, diagnostics), diagnostics);
    }

    /// <summary>Compiles a plan.</summary>
    /// <param name="document">The plan as written.</param>
    /// <param name="profile">The desk.</param>
    /// <param name="phase">The phase to judge by.</param>
    /// <param name="diagnostics">Gets every fault.</param>
    /// <param name="auditPlan">Whether to look for what is allowed but probably not meant (slower).</param>
    /// <param name="cue">Name of the cue to judge by, or null for the plan alone.</param>
    /// <exception cref="ArgumentException">The plan has no such cue.</exception>
    public static ShowPlan? Compile(PlanDocument document, DeskProfile profile, Phase phase, DiagnosticBag diagnostics, bool auditPlan = false, string? cue = null)
    {
        var line = cue is null ? null : document.Cues.FirstOrDefault(item => item.Key.Text == cue) ?? throw new ArgumentException($"the plan has no cue '{cue}'", nameof(cue));
        try
        {
            var plan = new PlanCompiler(document, profile, phase, diagnostics, line).Run(auditPlan);
            return diagnostics.HasErrors ? null : plan;
        }
        catch (PlanTooLargeException problem)
        {
            diagnostics.Add(DocumentCodes.TooMany, problem.At, $"up to this line the plan asks for more than {WorkLimit.Most:N0} settings", "look for ranges that are wider than the desk, or lines that say the same again and again");
            return null;
        }
    }

    private ShowPlan? Run(bool auditPlan)
    {
        SayBuiltIns();
        foreach (var dca in _document.Dcas)
            NameNumbered("dca", dca, _names.AddDca);
        foreach (var muteGroup in _document.MuteGroups)
            NameNumbered("mute-group", muteGroup, _names.AddMuteGroup);
        var strips = new StripCompiler(_document, _profile, _names, _table, _diagnostics);
        var feeds = new FeedCompiler(_document, _profile, _names, _table, strips, _diagnostics);
        feeds.Compile();
        strips.Compile();
        new DirectCompiler(_document, _profile, _names, _table, strips.Planned, feeds.Outputs, _diagnostics).Compile();
        new TalkCompiler(_profile, _names, _table, _diagnostics).Compile(_document.Talks);
        KeyLine.Say(_document.Keys, _profile, _table, _diagnostics);
        foreach (var (path, value) in _document.Settings)
            SaySetting(path, value, Ranks.Setting);
        ByEyeCheck.Settings(_document, _profile, _table.Limit, _diagnostics);
        var ratios = PlannedRatio.Resolve(_document, strips.Planned, _names, _diagnostics);
        WaiverCheck.Names(_document.Waivers, _profile, _document.Feeds.Select(feed => feed.Key.Text).ToHashSet(StringComparer.Ordinal), _diagnostics, ratios.Select(ratio => ratio.Subject).ToHashSet(StringComparer.Ordinal));
        var locks = ReadPhases();
        var hands = new HandsOnCompiler(_profile, _names).Compile(_document.HandsOn);
        var cues = new CueCompiler(_document, _profile, _names, _table, strips, _diagnostics);
        var cue = SayCue(cues);
        var guards = PlannedGuard.Resolve(_document, strips.Planned, _names);
        List<Feed> allFeeds = [.. _names.Feeds];
        var couplings = new CouplingCompiler(_document, strips.Planned, allFeeds, _names, _table.Limit, _diagnostics) { IsIncomplete = _wasMisread || _diagnostics.ErrorCount > _errorsBefore };
        couplings.Compile();
        if (_diagnostics.ErrorCount > _errorsBefore)
            return null;
        var expectations = _table.Resolve();
        if (_phase == Phase.Show)
            expectations.RemoveAll(item => item.Rank < Ranks.Phase && _profile.Settings[item.Setting].Kind.Class == SettingClass.Mutes);
        if (cue is not null)
            cues.Relax(expectations, cue);
        var plan = new ShowPlan(_document, _profile, _phase, expectations, strips.Planned, strips.Parked, allFeeds, locks, _table, cue)
        {
            Hands = hands,
            Guards = guards,
            Ratios = ratios,
            Loudspeakers = couplings.Loudspeakers,
            Microphones = couplings.Microphones,
            Couplings = couplings.Couplings,
        };
        plan.Forbidden = new ConstraintCheck(plan, _names, _diagnostics).Run();
        plan.Independent = new IndependenceCheck(plan, _names, _diagnostics).Run();
        new UnitCheck(plan, _names, _diagnostics).Run(auditPlan && !_wasMisread);
        if (cue is not null)
            new CueContradictions(plan, cue, _diagnostics).Run();
        // What seems unused or unsaid may stand in a line that could not be read.
        if (auditPlan && !_wasMisread && cue is not null)
            new CueAudit(plan, _cue!, cues.Needless, _table, _diagnostics).Run();
        else if (auditPlan && !_wasMisread)
            new PlanAudit(plan, _table, _diagnostics).Run();
        return plan;
    }

    private PlannedCue? SayCue(CueCompiler cues)
    {
        if (_cue is null)
        {
            cues.CheckAll(isIncomplete: _wasMisread || _diagnostics.ErrorCount > _errorsBefore);
            return null;
        }

        foreach (var (path, value) in _cue.Settings)
            SaySetting(path, value, Ranks.CueSetting);
        return cues.Compile(_cue);
    }

    // Common practice, no source: none of these may be otherwise when a show is to run.
    private void SayBuiltIns()
    {
        var at = _document.Desk.At;
        foreach (var (path, on) in ((string, bool)[])[("desk/oscillator", false), ("desk/solo-in-place", false), ("desk/external-mute", false), ("desk/clock-locked", true)])
        {
            if (_profile.Find(path) is >= 0 and var id)
                _table.SayById(id, on, at, Ranks.ShowDefault);
        }

        if (_profile.Find("desk/input-bank") >= 0)
            _table.Say("desk/input-bank", _document.Desk, "stage", Ranks.ShowDefault);
    }

    private void NameNumbered(string kind, NumberedName item, Action<NumberedName> add)
    {
        add(item);
        if (item.Number > _profile.Counts.Strips(kind))
            _diagnostics.Add(PlanCodes.NoSuchStrip, item.Name.At, $"{_profile.Desk} has {_profile.Counts.Strips(kind)} of kind {kind}, so there is no number {item.Number}", null);
        else
            _table.Say($"{kind}/{item.Number}/name", item.Name, item.Name.Text, Ranks.Narrowed(Ranks.Strip, 1));
    }

    private void SaySetting(ScalarNode path, Node value, int basis)
    {
        if (value is not ScalarNode scalar)
        {
            _diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{path.Text}' is {value.Shape}", "write path: value");
            return;
        }

        var paths = PathRanges.Expand(path, _table.Limit);
        if (paths is null)
            _diagnostics.Add(DocumentCodes.BadValue, path.At, $"'{path.Text}' is not a setting path", "write it like input/31/low-cut, with ranges such as input/1-8/gate/on");
        else
        {
            foreach (var one in paths)
            {
                // Of a line that names what is not there the rest is not looked at: the plan is refused.
                if (_table.Find(one, path.At, path.Text) < 0)
                    break;
                _table.Say(one, scalar, scalar.Text, Ranks.Narrowed(basis, paths.Count));
            }
        }
    }

    private PhaseLock[] ReadPhases()
    {
        var locks = new PhaseLock[SettingClasses.All.Count];
        if (_phase == Phase.Show)
            locks[(int)SettingClass.Mutes] = PhaseLock.Free;
        foreach (var line in _document.PhaseLines)
        {
            if (line.Phase != _phase)
            {
                foreach (var (path, _) in line.Settings)
                    CheckSeen(path);
                continue;
            }

            foreach (var (settingClass, meaning, _) in line.Locks)
                locks[(int)settingClass] = meaning;
            foreach (var (path, value) in line.Settings)
                SaySetting(path, value, Ranks.Phase);
        }

        return locks;
    }

    private void CheckSeen(ScalarNode path)
    {
        foreach (var one in PathRanges.Expand(path, _table.Limit) ?? [])
            _ = _table.Find(one, path.At, path.Text);
    }
}
