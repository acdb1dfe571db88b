using System.Security.Cryptography;
using System.Text;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>
/// What shapes the sound of one loop on the desk: EQ, low-cut, delay, polarity, inserts and dynamics of the microphone's strip, of every group and bus on a way the
/// plan makes from it to the loudspeaker, and of the loudspeaker's outputs. A measured coupling holds for one such setup. Levels, mutes and sends are none of it: they are the desk's gain.
/// </summary>
/// <remarks>A desk tells which of these are on, and what is inserted; it does not tell the curve of an EQ or what is set inside an inserted unit.</remarks>
public sealed class LoopSetup
{
    private readonly DeskProfile _profile;

    private LoopSetup(DeskProfile profile, IReadOnlyList<int> settings)
    {
        _profile = profile;
        Settings = settings;
    }

    /// <summary>Ids of the settings, by the path of their strip and their own (ordinal), so that no other order of a profile's lines changes a fingerprint.</summary>
    public IReadOnlyList<int> Settings { get; }

    /// <summary>Finds what shapes a loop.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="microphone">One of <see cref="ShowPlan.Microphones"/>.</param>
    /// <param name="loudspeaker">One of <see cref="ShowPlan.Loudspeakers"/>.</param>
    public static LoopSetup Of(ShowPlan plan, PlannedStrip microphone, Loudspeaker loudspeaker) => Of(plan, new PlannedRoutes(plan), microphone, loudspeaker);

    internal static LoopSetup Of(ShowPlan plan, PlannedRoutes routes, PlannedStrip microphone, Loudspeaker loudspeaker)
    {
        var feed = plan.Feeds[loudspeaker.Feed];
        var ends = feed.IsDirect ? feed.Outputs : loudspeaker.Position == 0 ? feed.Buses : [feed.Buses[loudspeaker.Position - 1]];
        var settings = OnTheWay(routes, microphone.Strip.Path, ends).Union(Outputs(plan.Profile, feed, loudspeaker.Position))
            .Select(plan.Profile.FindStrip).OfType<Strip>()
            .SelectMany(strip => plan.Profile.SettingsOf(strip.Id).ToArray())
            .Where(id => plan.Profile.Settings[id].Kind.Class is SettingClass.Processing or SettingClass.Inserts)
            .OrderBy(id => plan.Profile.Settings[id].Path, StringComparer.Ordinal);
        return new LoopSetup(plan.Profile, [.. settings]);
    }

    /// <summary>
    /// Eight hexadecimal digits that change with any of the settings: the first 32 bits of SHA-256 over <c>path=value</c> lines in order; null when one of them is not fresh, or when
    /// the profile maps none of them.
    /// </summary>
    /// <param name="state">A state of the plan's desk.</param>
    public string? Fingerprint(DeskState state)
    {
        if (Settings.Count == 0)
            return null;
        var text = new StringBuilder();
        foreach (var id in Settings)
        {
            if (!state.IsFresh(id))
                return null;
            // A name from the desk could hold a line break; it must not read like the next line.
            text.Append(_profile.Settings[id].Path).Append('=').Append(_profile.Format(state[id]).Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\n", "\\n", StringComparison.Ordinal)).Append('\n');
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())).AsSpan(0, 4));
    }

    // Everything that lies between: what the microphone reaches and what reaches an end.
    private static HashSet<string> OnTheWay(PlannedRoutes routes, string microphone, IReadOnlyList<string> ends)
    {
        var before = new Dictionary<string, List<string>>(StringComparer.Ordinal);
        foreach (var strip in routes.From(microphone).Keys.Prepend(microphone))
        {
            foreach (var (bus, _) in routes.EdgesFrom(strip))
            {
                if (!before.TryGetValue(bus, out var strips))
                    before.Add(bus, strips = []);
                strips.Add(strip);
            }
        }

        var found = new HashSet<string>(ends, StringComparer.Ordinal) { microphone };
        var waiting = new Queue<string>(ends);
        while (waiting.TryDequeue(out var bus))
        {
            foreach (var strip in before.GetValueOrDefault(bus) ?? [])
            {
                if (found.Add(strip))
                    waiting.Enqueue(strip);
            }
        }

        return found;
    }

    /// <summary>The outputs of a loudspeaker. They carry the feed's signals in order, again and again; a stereo bus is two of them.</summary>
    internal static IEnumerable<string> OutputsOf(DeskProfile profile, Feed feed, int position) => feed.IsDirect ? feed.Outputs : Outputs(profile, feed, position);

    // Of a direct feed the outputs are its ends.
    private static IEnumerable<string> Outputs(DeskProfile profile, Feed feed, int position)
    {
        if (feed.IsDirect)
            return [];
        if (position == 0)
            return feed.Outputs;
        var sides = profile.Counts.IsStereo(feed.Buses[0].Split('/')[0]) ? 2 : 1;
        return feed.Outputs.Where((_, i) => i / sides % feed.Buses.Count == position - 1);
    }
}
