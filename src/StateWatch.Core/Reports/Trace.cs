using StateWatch.Core.Desks;
using StateWatch.Core.Links;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>
/// A trace: why a source is heard at a feed, or is not. From the plan alone, or over a link that can only ask, reading just what the signal
/// flow depends on. It sends no tone.
/// </summary>
/// <param name="subject">What is traced where.</param>
/// <param name="map">The signal flow of the subject's plan.</param>
/// <param name="from">The source, or null for all that feed <paramref name="to"/>.</param>
/// <param name="to">The feed, or null for all that <paramref name="from"/> reaches.</param>
public sealed class Trace(TraceSubject subject, RoutingMap map, TraceSource? from, TraceTarget? to)
{
    /// <summary>Traces a desk after a reset that was then set to everything the plan says.</summary>
    public TraceResult AsPlanned()
    {
        var state = new DeskState(subject.Plan.Profile);
        foreach (var setting in subject.Plan.Profile.Settings)
            state.Apply(setting.Id, setting.Reset);
        foreach (var (setting, value) in PlannedState.Of(subject.Plan))
            state.Apply(setting, value);
        return Of(state, null);
    }

    /// <summary>Reads a desk and traces what it says.</summary>
    /// <param name="reader">The link.</param>
    /// <param name="onProgress">Told how many of how many questions are answered; may be null.</param>
    /// <param name="cancel">Stops the read; what is unread is then unseen.</param>
    public TraceResult Read(IDeskReader reader, Action<int, int>? onProgress = null, CancellationToken cancel = default)
    {
        var state = new DeskState(subject.Plan.Profile);
        var read = new FullRead(subject.Plan.Profile, state, reader, Tracer.Inputs(map)).Run(onProgress, cancel);
        return Of(state, read);
    }

    /// <summary>Traces settings that are already known.</summary>
    public TraceResult Of(DeskState state, ReadReport? read)
    {
        var kind = from is null ? TraceKind.Feeding : to is null ? TraceKind.Reach : TraceKind.Pair;
        var result = new TraceResult(subject, map, kind, [], read, state);
        if (!result.HasDesk)
            return result;
        var tracer = new Tracer(subject.Plan, map, state);
        var names = new TraceNames(subject.Plan, map);
        if (from is not null && to is not null)
            return result with { Pairs = [tracer.Explain(from, to)] };
        var pairs = from is not null ? names.Targets.Select(target => tracer.Answer(from, target)) : names.Sources.Select(source => tracer.Answer(source, to!));
        return result with { Pairs = [.. pairs.OrderByDescending(pair => pair.Answer == TraceAnswer.Unstable).ThenByDescending(pair => pair.Level)] };
    }
}
