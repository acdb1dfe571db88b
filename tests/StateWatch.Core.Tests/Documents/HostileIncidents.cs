using System.Text;
using static StateWatch.Core.Tests.Documents.HostileFiles;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Incident scripts that are good YAML and ask for too much.</summary>
internal static class HostileIncidents
{
    public static IEnumerable<HostileFile> All =>
    [
        Script("7,000 incidents that set nothing", "missing-key", "incidents:\n" + Lines(7_000, i => $"  - {{ say: a{i}, expect: [] }}")),
        Script("19,000 misspelled settings", "incident-setting-not-seen", "incidents: [{ say: a, expect: [], set: {\n" + Lines(19_000, i => $" input/{i}/low-cit: on,") + "} }]"),
        Script("4,000 misspelled words of a long list", "bad-value", "incidents:\n" + Lines(4_000, i => $"  - {{ say: a, expect: [], set: {{ input/1/source: stagee {i % 50} }} }}")),
        Script("38,000 faulty finding ids", "bad-finding-id", "incidents: [{ say: a, set: { desk/oscillator: on }, expect: [" + Repeat("a, ", 38_000) + "] }]"),
        Script("38,000 unanswered settings nobody sees", "incident-setting-not-seen", "incidents: []\nunanswered: [" + Repeat("input/1/low-cit,\n ", 38_000) + "]"),
        Script("38,000 incidents that are words", "wrong-shape", "incidents: [" + Repeat("a, ", 38_000) + "]"),
        Script("after a billion years", "bad-value", "incidents: [{ say: a, set: { desk/oscillator: on }, expect: [], after: 999999999999999999999 min }]"),
    ];

    private static HostileFile Script(string what, string code, string lines) =>
        new(what, HostileKind.Incidents, code, () => Encoding.UTF8.GetBytes("format: statewatch/incidents/1\n" + lines));
}
