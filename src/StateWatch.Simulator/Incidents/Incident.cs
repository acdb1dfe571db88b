using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Simulator.Incidents;

/// <summary>Something that somebody did to the desk, and what a sweep must then find.</summary>
/// <param name="Say">What was done, in plain words.</param>
/// <param name="Set">Settings by id of the profile, with their new values, in order of writing.</param>
/// <param name="Expect">The finding ids a sweep must give, no others.</param>
/// <param name="Words">What the volunteer's page must say of it, word for word.</param>
/// <param name="After">When it happens, counted from the start of a simulation; zero for "at once".</param>
/// <param name="At">Where it is written.</param>
public sealed record Incident(string Say, IReadOnlyList<(int Setting, SettingValue Value)> Set, IReadOnlyList<string> Expect, IReadOnlyList<string> Words, TimeSpan After, Origin At);

/// <summary>All incidents of a file.</summary>
/// <param name="Incidents">In order of writing.</param>
/// <param name="Unanswered">Ids of settings whose questions the virtual desk ignores.</param>
/// <param name="Phase">The phase in which all this happens, or null when the script does not say.</param>
public sealed record IncidentScript(IReadOnlyList<Incident> Incidents, IReadOnlySet<int> Unanswered, Phase? Phase);
