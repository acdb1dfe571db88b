using StateWatch.Core.Desks;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Capturing;

/// <summary>
/// The desk's level meters at both ends of a loop. Assumed, as no setting tells it: a socket's <c>signal</c> is taken behind its preamp; an input's behind preamp and trim, before everything
/// else of the strip; an output's is what leaves the socket; all on one scale of digital levels. A desk whose meters sit elsewhere must not be measured with them.
/// </summary>
public sealed class LoopMeters
{
    private readonly LoopWatch _watch;
    private readonly int[] _outputs;
    private readonly int _input;
    private readonly int _trim;

    internal LoopMeters(LoopWatch watch)
    {
        _watch = watch;
        _outputs = [.. watch.Outputs.Select(output => Level($"{output.Path}/signal")).Where(id => id >= 0)];
        _input = Level($"{watch.Microphone.Strip.Path}/signal");
        _trim = watch.Plan.Profile.Find($"{watch.Microphone.Strip.Path}/trim");
    }

    /// <summary>What must be read again and again, the microphone's gain among it.</summary>
    public IEnumerable<int> Settings => ((int[])[.. _outputs, _input, _trim, Socket, Gain, Source]).Where(id => id >= 0);

    /// <summary>Why levels cannot be told on this desk, as a sentence; null when they can.</summary>
    public string? Lacks => _input < 0 && Socket < 0 ? $"This desk does not tell the level of {_watch.Microphone.Strip.Path} in dB."
        : _outputs.Length == 0 || _outputs.Length < _watch.Outputs.Count ? $"This desk does not tell the level of the outputs of {_watch.Loudspeaker.Words} in dB."
        : Gain < 0 ? $"This desk does not tell the preamp's gain of {_watch.Microphone.Strip.Path}, so its level says nothing about the socket."
        : null;

    private int Source => _watch.Plan.Profile.Find($"{_watch.Microphone.Strip.Path}/source");

    // The socket that the microphone is patched to now.
    private int Gain => _watch.Map.Strips.FirstOrDefault(strip => strip.Strip == _watch.Microphone.Strip.Id) is { } stages ? _watch.SocketGain(stages) : -1;

    private int Socket => Gain is >= 0 and var gain ? Level($"{_watch.Plan.Profile.Strips[_watch.Plan.Profile.Settings[gain].Strip].Path}/signal") : -1;

    /// <summary>The levels in a reading, the input's as it is at the socket before the preamp. Of several outputs the quietest counts: it makes the smallest loss.</summary>
    public NoiseSample Read(DeskState state, ReadEnd end)
    {
        if (end is ReadEnd.Silent or ReadEnd.FellSilent)
            return Void("The desk fell silent.");
        if (end is ReadEnd.AnotherDesk)
            return Void("Another desk answers now.");
        foreach (var id in Settings)
        {
            if (!state.IsFresh(id))
                return Void($"{_watch.Plan.Profile.Settings[id].Path} was not seen.");
            if (!IsMeter(id) && state[id] != _watch.State[id])
                return Void($"{_watch.Plan.Profile.Settings[id].Path} moved: the microphone's gain must stay as it is while levels are read.");
        }

        var socket = Socket;
        var level = socket >= 0 ? state[socket].Number : state[_input].Number - (_trim < 0 ? 0 : state[_trim].Number);
        return new NoiseSample(level - state[Gain].Number, _outputs.Min(id => state[id].Number));
    }

    private static NoiseSample Void(string why) => new(double.NaN, double.NaN, why);

    private bool IsMeter(int id) => _watch.Plan.Profile.Settings[id].Kind.Suffix == "signal";

    private int Level(string path) =>
        _watch.Plan.Profile.Find(path) is >= 0 and var id && _watch.Plan.Profile.Settings[id].Reset.Kind == ValueKind.Level ? id : -1;
}
