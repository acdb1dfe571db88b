using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Auditing.Margins;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Auditing;

/// <summary>What rules look up in a plan: names, feeds, sockets. Immutable.</summary>
public sealed class AuditFacts
{
    private readonly Dictionary<string, (Feed Feed, int Position)> _feedByBus = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Feed> _feedByOutput = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _nameByOutput = new(StringComparer.Ordinal);
    private readonly Dictionary<string, PlannedStrip> _stripBySocket = new(StringComparer.Ordinal);
    private readonly PlannedStrip?[] _strips;
    private readonly string?[] _names;
    private readonly Lazy<SignalFlow> _flow;
    private readonly Lazy<LoopFlow> _loops;
    private readonly Lazy<LevelFlow> _levels;

    /// <summary>Collects the facts of a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="baseline">For a watch, the levels that guards measure from, where they are known; null for a sweep.</param>
    public AuditFacts(ShowPlan plan, IReadOnlyList<BaselineLevel>? baseline = null)
    {
        Plan = plan;
        _flow = new Lazy<SignalFlow>(() => new SignalFlow(plan));
        _loops = new Lazy<LoopFlow>(() => new LoopFlow(plan, Flow.Map, Flow.Facts));
        _levels = new Lazy<LevelFlow>(() => new LevelFlow(plan, Flow.Map, Flow.Facts, baseline));
        Profile = plan.Profile;
        _strips = new PlannedStrip?[Profile.Strips.Count];
        _names = new string?[Profile.Strips.Count];
        foreach (var feed in plan.Feeds)
        {
            for (var i = 0; i < feed.Buses.Count; i++)
                _feedByBus[feed.Buses[i]] = (feed, i + 1);
            for (var i = 0; i < feed.Outputs.Count; i++)
            {
                _feedByOutput[feed.Outputs[i]] = feed;
                _nameByOutput[feed.Outputs[i]] = OutputWords(feed, i + 1);
            }
        }

        foreach (var strip in plan.Strips)
        {
            _strips[strip.Strip.Id] = strip;
            if (strip.Socket is not null)
                _stripBySocket.TryAdd(strip.Socket, strip);
        }

        foreach (var expectation in plan.Expectations)
        {
            var setting = Profile.Settings[expectation.Setting];
            if (setting.Kind.Suffix == "name")
                _names[setting.Strip] = Profile.Format(expectation.Planned);
        }
    }

    /// <summary>The plan.</summary>
    public ShowPlan Plan { get; }

    /// <summary>The desk.</summary>
    public DeskProfile Profile { get; }

    /// <summary>What arrives where: made when a rule first asks, and computed anew for every state that is judged.</summary>
    internal SignalFlow Flow => _flow.Value;

    /// <summary>Loops through the air: likewise.</summary>
    internal LoopFlow Loops => _loops.Value;

    /// <summary>How loud sources are at guarded feeds: likewise.</summary>
    internal LevelFlow Levels => _levels.Value;

    /// <summary>The feed, effect or group that owns a bus such as <c>mix/3</c>, and the bus's position in it, from 1.</summary>
    public (Feed Feed, int Position)? FeedOf(string bus) => _feedByBus.TryGetValue(bus, out var found) ? found : null;

    /// <summary>The feed that leaves the desk at an output such as <c>output/stage-5</c>, or null.</summary>
    public Feed? FeedAt(string output) => _feedByOutput.GetValueOrDefault(output);

    /// <summary>What the plan says of a strip, or null.</summary>
    public PlannedStrip? StripOf(int strip) => _strips[strip];

    /// <summary>The strip planned on a socket such as <c>socket/stage-12</c>, or null.</summary>
    public PlannedStrip? StripOn(string socket) => _stripBySocket.GetValueOrDefault(socket);

    /// <summary>The planned name of a strip, or null when it has none.</summary>
    public string? NameOf(Strip strip) => strip.Kind switch
    {
        "socket" => StripOn(strip.Path)?.Name,
        "output" => _nameByOutput.GetValueOrDefault(strip.Path),
        _ => _strips[strip.Id]?.Name ?? _names[strip.Id],
    };

    /// <summary>A strip in words: <c>Choir 4 (input 20)</c>, <c>input 20</c>, <c>the socket of Choir 4 (stage 18)</c>.</summary>
    public string Words(Strip strip)
    {
        var name = NameOf(strip);
        var place = Place(strip);
        return strip.Kind switch
        {
            _ when name is null || name == strip.Path => place,
            "socket" => $"the socket of {name} ({place})",
            "dca" or "mute-group" => $"{place} ({name})",
            _ => $"{name} ({place})",
        };
    }

    /// <summary>A text with a capital at its front, unless it begins with the strip's name: the user's own names keep their letters.</summary>
    public string Opening(Strip strip, string text) =>
        NameOf(strip) is { } name && text.StartsWith(name, StringComparison.Ordinal) ? text : Sentences.Capital(text);

    /// <summary>A bus in words: <c>wedges 3 (mix 3)</c>, <c>the room (main 1)</c> or <c>mix 9</c>.</summary>
    public string BusWords(string bus)
    {
        var place = bus.Replace('/', ' ');
        if (FeedOf(bus) is not { } owner)
            return place;
        return $"{LegWords(owner.Feed, owner.Position, owner.Feed.Buses.Count)} ({place})";
    }

    /// <summary>A feed that has several buses or outputs, and which of them: <c>wedges 3</c>, <c>ears-a left</c>.</summary>
    private static string LegWords(Feed feed, int position, int count) => count switch
    {
        1 => feed.Key,
        2 when feed.Stereo => $"{feed.Key} {(position == 1 ? "left" : "right")}",
        _ => $"{feed.Key} {position}",
    };

    // Further outputs of a pair carry left and right again.
    private static string OutputWords(Feed feed, int position) => feed.Stereo && feed.Buses.Count <= 2 && feed.Outputs.Count % 2 == 0
        ? LegWords(feed, (position - 1) % 2 + 1, 2)
        : LegWords(feed, position, feed.Outputs.Count);

    /// <summary>Where a strip is found on the desk: <c>input 20</c>, <c>stage 18</c>, <c>the desk</c>.</summary>
    public static string Place(Strip strip) => strip.Kind switch
    {
        "desk" => "the desk",
        "socket" => $"{strip.Bank} {strip.Number}",
        "output" => $"output {strip.Bank} {strip.Number}",
        "fx-return" => $"effect return {strip.Number}",
        "dca" => $"DCA {strip.Number}",
        "mute-group" => $"mute group {strip.Number}",
        _ => $"{strip.Kind} {strip.Number}",
    };
}
