using StateWatch.Core.Documents;
using StateWatch.Core.Plans;

namespace StateWatch.Simulator.Incidents;

/// <summary>The keys of a file of incidents. The reader, the JSON Schema and the reference go by these rows; see DEVELOPERS.md on how to add one.</summary>
public static class IncidentKeys
{
    /// <summary>One incident.</summary>
    public static KeyTable Incident { get; } = new("incident", "What somebody did to the desk, and the findings a sweep must give for it.",
        new KeyInfo("say", new TextShape(@"[\s\S]"), "Somebody unlinked the playback", "What somebody did, in plain words.") { Required = true },
        new KeyInfo("set", new SettingsShape(null, least: 1), "{ desk/oscillator: on }", "Setting paths of the desk profile and their new values.") { Required = true },
        new KeyInfo("expect", new ListShape(new TextShape(@"^[a-z0-9-]+:[\s\S]+$"), single: true, distinct: true), "[\"oscillator-on:desk/oscillator\"]",
            "The finding ids, rule:subject, that a sweep must give, no others; [] when it must give none.")
        { Required = true },
        new KeyInfo("words", new ListShape(TextShape.Filled, single: true), "[\"Fader down first, then link them\"]", "What the volunteer's page must say of it, word for word."),
        new KeyInfo("after", new TextShape(@"^([0-9]+\.?[0-9]*|\.[0-9]+) *(ms|s|min)$"), "5 s", "When it happens, from the start of simulate, in ms, s or min, at most a day. A sweep does not wait for it.") { Default = "0 s" });

    /// <summary>The file itself.</summary>
    public static KeyTable Root { get; } = new("file of incidents", "What people did to a virtual desk, and the findings a sweep must give for it.",
        new KeyInfo("format", new WordShape(IncidentReader.Format), IncidentReader.Format, "Name and version of the format.") { Required = true },
        new KeyInfo("phase", new WordShape(Phases.All), "show", "The phase in which all this happens. A sweep judges by it unless --phase is given. Left out: the plan's sweep-phase."),
        new KeyInfo("incidents", new ListShape(new TableShape(Incident)), "[{ say: The oscillator was left on, set: { desk/oscillator: on }, expect: [\"oscillator-on:desk/oscillator\"] }]", "The incidents, in the order in which they happen.") { Required = true },
        new KeyInfo("unanswered", new ListShape(TextShape.Any, single: true), "[\"socket/stage-7/phantom\"]", "Setting paths whose questions the virtual desk ignores."));
}
