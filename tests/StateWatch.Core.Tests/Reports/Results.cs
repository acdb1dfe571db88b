using StateWatch.Core.Plans;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

/// <summary>Real sweeps of the demo show, one of each kind, made once.</summary>
internal static class Results
{
    private static readonly Dictionary<string, Lazy<SweepResult>> ByName = new(StringComparer.Ordinal)
    {
        ["clean"] = new(() => new Midwinter().Sweep()),
        ["simulated"] = new(() => new Midwinter().Sweep(simulated: true)),
        ["incidents"] = new(() => new Midwinter().WithIncidents().Sweep()),
        ["silent"] = new(() => new Midwinter().Silent().Sweep()),
        ["refused"] = new(() => new Midwinter().Sweep(prepare: link => link.Refusing = true)),
        ["another-desk"] = new(() => new Midwinter().SayingItIs("oak", "1.0").Sweep()),
        ["partial"] = new(() => new Midwinter().Unanswered("socket/stage-7/phantom").Sweep()),
        ["partial-incidents"] = new(() => new Midwinter().WithIncidents().Unanswered("socket/stage-7/phantom").Sweep()),
        ["fell-silent"] = new(() => new Midwinter().Sweep(silentAfter: 900)),
        ["warnings"] = new(() => new Midwinter().With("input/25/low-cut", "off").With("input/25/comp/on", "off").Sweep()),
        ["notices"] = new(() => new Midwinter().With("group/3/fader", "5 dB").Sweep()),
        ["wrong-show"] = new(() => new Midwinter().WithIncidents().With("desk/show-file", "Midsummer").Sweep()),
        ["waived"] = new(() => new Midwinter(lines: WaiverReportTests.Waivers).WithIncidents().Sweep()),
        ["cue"] = new(() => new Midwinter(Phase.Show, CueReportTests.Cues, "Sermon").With("input/25/on", "off").With("input/17/on", "on").Sweep()),
        ["hostile"] = new(() => new Midwinter().With("input/3/name", "\x1b[2J\n\u202e\x9b").WithIncidents().SayingItIs("larch", "2.\x1b]0;x\x07").Sweep()),
    };

    public static SweepResult Of(string name) => ByName[name].Value;

    public static TheoryData<string> All => [.. ByName.Keys];
}
