using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>The cue a plan was compiled for: what must be open and what closed.</summary>
/// <param name="Name">Its name.</param>
/// <param name="At">The plan line.</param>
/// <param name="Settle">How long the desk may take to get there; only a watch waits for it.</param>
/// <param name="Open">What must be open.</param>
/// <param name="Closed">What must be closed.</param>
public sealed record PlannedCue(string Name, Origin At, TimeSpan Settle, IReadOnlyList<CueOpening> Open, IReadOnlyList<CueClosing> Closed)
{
    /// <summary>How a strip must be closed, or null when it need not be.</summary>
    /// <param name="strip">Strip id.</param>
    public CueClosing? ClosingOf(int strip) => Closed.FirstOrDefault(item => item.Strip.Strip.Id == strip);

    /// <summary>How a strip must be open, alone or as one of several, or null when it need not be.</summary>
    /// <param name="strip">Strip id.</param>
    public CueOpening? OpeningOf(int strip) => Open.FirstOrDefault(item => item.Strips.Any(one => one.Strip.Id == strip));
}

/// <summary>Something that must be open at a cue.</summary>
/// <param name="Strips">One strip; or several, any one of which will do.</param>
/// <param name="Said">The name in the cue that says so.</param>
/// <param name="Width">How many strips that name stands for.</param>
public sealed record CueOpening(IReadOnlyList<PlannedStrip> Strips, ScalarNode Said, int Width);

/// <summary>A strip that must be closed at a cue: muted, in an active mute group, its fader down, or a DCA of it muted or down.</summary>
/// <param name="Strip">The strip.</param>
/// <param name="Said">The name in the cue that says so.</param>
/// <param name="Width">How many strips that name stands for.</param>
public sealed record CueClosing(PlannedStrip Strip, ScalarNode Said, int Width);
