using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Stage boxes the plan counts on: missing, swapped, or on one cable where two were planned. Common practice, no source.</summary>
internal sealed class StageBoxRules : IAuditRule
{
    private static readonly RuleInfo Missing = new("stage-box-missing", FindingKind.Risk, SeverityByPhase.Of("WUUU"),
        "the desk does not see a stage box", "{0} stage boxes missing");

    private static readonly RuleInfo Swapped = new("stage-box-swapped", FindingKind.Risk, SeverityByPhase.Of("WUUU"),
        "a stage box answers in another one's place", "{0} stage boxes in the wrong place");

    private static readonly RuleInfo Leg = new("stage-box-leg-down", FindingKind.Risk, SeverityByPhase.Of("NWWW"),
        "one cable of a stage box is down", "{0} cables of stage boxes are down");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Missing, Swapped, Leg];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts)
    {
        var boxes = facts.Plan.Expectations.Select(item => (Expectation: item, Setting: facts.Profile.Settings[item.Setting])).ToList();
        var names = boxes.Where(item => item.Setting.Kind.Suffix == "box/#/name").Select(item => item.Expectation).ToArray();
        foreach (var (expectation, setting) in boxes)
        {
            var number = setting.Path.StartsWith("desk/box/", StringComparison.Ordinal) ? setting.Path.Split('/')[2] : "";
            switch (setting.Kind.Suffix)
            {
                case "box/#/present" when expectation.Planned.IsOn:
                    yield return new MissingCheck(expectation, number, [.. boxes.Where(item => item.Setting.Path.StartsWith($"desk/box/{number}/", StringComparison.Ordinal)).Select(item => item.Setting.Id)]);
                    break;
                case "box/#/name":
                    yield return new SwappedCheck(expectation, number, names);
                    break;
                case "box/#/leg/#" when expectation.Planned.IsOn:
                    yield return new LegCheck(expectation, number, facts.Profile.Find($"desk/box/{number}/present"));
                    break;
            }
        }
    }

    private sealed class MissingCheck(Expectation expectation, string number, int[] ofBox) : RuleCheck(Missing, expectation.Setting, [expectation.Setting])
    {
        public override IReadOnlyList<int> Explains => ofBox;

        public override bool IsViolated(DeskState state) => !state[Subject].IsOn;

        public override FindingWords Describe(AuditFacts facts, DeskState state) =>
            new($"Stage box {number} is missing", $"Every microphone and every output on it is dead{Channels(facts)}.", $"Main faders down, then look at power and cable of box {number}; when it comes back, everything on it comes back at once.", "desk", "The desk")
            {
                Short = new($"Stage box {number} is missing", "everything on it is dead", $"Main faders down, then look at power and cable of box {number}", "Main faders down, then look at their power and cables"),
            };

        // Names a few, where the profile says what sits on the box: people look for names, not for numbers of sockets.
        private string Channels(AuditFacts facts)
        {
            var names = int.TryParse(number, out var box) ? facts.Profile.Boxes.SocketsOf(box).Select(socket => facts.StripOn(socket)?.Name).OfType<string>().ToList() : [];
            return names.Count == 0 ? "" : $": {Sentences.Few(names, 3)}";
        }
    }

    private sealed class SwappedCheck(Expectation expectation, string number, Expectation[] names) : RuleCheck(Swapped, expectation.Setting, [expectation.Setting])
    {
        public override bool IsViolated(DeskState state) => !expectation.Allows(state[Subject]) && Other(state[Subject]);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var (now, planned) = (facts.Profile.Format(state[Subject]), facts.Profile.Format(expectation.Planned));
            return new FindingWords($"Stage box {number} is '{now}', planned '{planned}'", "Its microphones and outputs are on each other's faders.",
                "Main faders down first, then call the engineer: the cables of the boxes are swapped.", "boxes", "The stage boxes")
            {
                Short = new($"Stage box {number} is '{now}', not '{planned}'", "microphones are on each other's faders", "Main faders down; call the engineer"),
            };
        }

        private bool Other(SettingValue live)
        {
            foreach (var name in names)
            {
                if (name != expectation && name.Planned == live)
                    return true;
            }

            return false;
        }
    }

    private sealed class LegCheck(Expectation expectation, string number, int present)
        : RuleCheck(Leg, expectation.Setting, present >= 0 ? [expectation.Setting, present] : [expectation.Setting])
    {
        public override bool IsViolated(DeskState state) => !state[Subject].IsOn && (present < 0 || state[present].IsOn);

        public override FindingWords Describe(AuditFacts facts, DeskState state)
        {
            var leg = facts.Profile.Settings[Subject].Path.Split('/')[^1];
            return new FindingWords($"Cable {leg} of stage box {number} is down", "No spare way is left: the next fault silences the whole box.",
                $"Do not touch the cable that still works; call the engineer about cable {leg} of box {number}.", $"box/{number}", $"Stage box {number}")
            {
                Short = new($"Stage box {number} has lost its cable {leg}", "the next fault silences the whole box", "Do not touch its other cable; call the engineer"),
            };
        }
    }
}
