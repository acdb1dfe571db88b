using System.CommandLine;
using StateWatch.Core.Plans;
using StateWatch.Files;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Commands;

/// <summary>The plan that a verb works with, compiled for the phase and the cue it was asked for.</summary>
internal static class PlanChoice
{
    /// <summary>Reads plan, profile and incidents; what is wrong with them is in the files' diagnostics.</summary>
    /// <returns>The plan, or null when a file has a fault; the incidents of the virtual desk, or null when there are none.</returns>
    public static (ShowPlan? Plan, IncidentScript? Script) Read(FileSet files, string path, string? incidents, ParseResult parsed, PhaseOption phases, CueOption cues)
    {
        var (document, profile) = files.ReadPlan(path);
        var cue = document is null ? null : cues.Of(parsed, document);
        var script = profile is not null && incidents is not null ? DeskRehearsal.ReadScript(files, incidents, profile) : null;
        var phase = document is null ? default : phases.Of(parsed, document, cue is not null ? Phase.Show : script?.Phase);
        var plan = document is not null && profile is not null ? PlanCompiler.Compile(document, profile, phase, files.Diagnostics, cue: cue) : null;
        return (files.Diagnostics.HasErrors ? null : plan, script);
    }
}
