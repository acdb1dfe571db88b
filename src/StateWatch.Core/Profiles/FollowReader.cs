using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles;

/// <summary>Reads <c>follow:</c> and <c>invalidate:</c> of a profile whose settings are compiled.</summary>
internal sealed class FollowReader(AddressMapCompiler map, DiagnosticBag diagnostics)
{
    // Each is held against every setting, or against every message that no setting knows.
    private const int MostPatterns = 16;

    // What follows from another mistake is not told: settings that were not compiled match no pattern.
    private readonly int _errorsBefore = diagnostics.ErrorCount;
    private int _patterns;

    public FollowSettings Read(MapNode? follow, IReadOnlyList<Node>? invalidate)
    {
        var invalidations = ReadInvalidations(invalidate ?? []);
        var reader = new MapReader(follow ?? new MapNode(default, []), FollowKeys.Follow, diagnostics);
        var keepAlive = ReadKeepAlive(reader.Mapping("keep-alive"), invalidations);
        var lostAfter = Milliseconds.Read(reader, "lost-after");
        var round = Milliseconds.TryRead(reader, "round") ?? TimeSpan.FromSeconds(keepAlive is null ? 1 : 30);
        var (often, oftenEvery) = ReadOften(reader.Mapping("often"));
        reader.Finish();
        return new FollowSettings(keepAlive, lostAfter, round, often, oftenEvery, invalidations);
    }

    private KeepAlive? ReadKeepAlive(MapNode? node, IReadOnlyList<Invalidation> invalidations)
    {
        if (node is null)
            return null;
        var reader = new MapReader(node, FollowKeys.KeepAlive, diagnostics);
        var ask = reader.RequireScalar("ask");
        var every = Milliseconds.Read(reader, "every");
        var lasts = Milliseconds.Read(reader, "lasts");
        var answered = !node.Entries.Any(entry => entry.Key.Text == "answered") || reader.Flag("answered");
        reader.Finish();
        if (2 * every > lasts)
        {
            diagnostics.Add(DocumentCodes.OutOfRange, node.At, $"a keep-alive every {every.TotalMilliseconds:0} ms that lasts {lasts.TotalMilliseconds:0} ms ends as soon as one gets lost",
                "ask at least twice as often as it lasts");
        }

        if (ask is null)
            return null;
        var address = Encoding.UTF8.GetBytes(ask.Text);
        if (!OscPattern.IsValidAddress(address))
        {
            diagnostics.Add(ProfileCodes.BadAddress, ask.At, $"'{ask.Text}' is not an OSC address", "begin with '/' and use no space and none of # * , ? [ ] { }");
            return null;
        }

        return CouldSet(ask, address, invalidations) ? null : new KeepAlive(address, Questions.Bare(address), every, lasts, answered);
    }

    /// <summary>A question that no setting or identity asks anyway must not look like something that does something.</summary>
    private bool CouldSet(ScalarNode ask, byte[] address, IReadOnlyList<Invalidation> invalidations)
    {
        if (map.HasAddress(address))
            return false;
        for (var end = address.Length - 1; end > 0; end--)
        {
            if (address[end] != (byte)'/' || !map.HasAddress(address.AsSpan(0, end)))
                continue;
            diagnostics.Add(ProfileCodes.QuestionCouldSet, ask.At,
                $"'{ask.Text}' goes on where a setting's address, {Encoding.UTF8.GetString(address, 0, end)}, ends: the desk could take the rest as a value to set", "ask an address that stands for itself");
            return true;
        }

        if (!invalidations.Any(item => OscPattern.Matches(item.On, address)))
            return false;
        diagnostics.Add(ProfileCodes.QuestionCouldSet, ask.At,
            $"'{ask.Text}' is a message after which the desk must be read again: sent to the desk it may be the command that changes it", "ask an address that only keeps the desk sending");
        return true;
    }

    private (IReadOnlyList<int> Endpoints, TimeSpan Every) ReadOften(MapNode? node)
    {
        if (node is null)
            return ([], TimeSpan.Zero);
        var reader = new MapReader(node, FollowKeys.Often, diagnostics);
        _ = reader.Require("settings");
        var items = reader.Items("settings") ?? [];
        var every = Milliseconds.TryRead(reader, "every", required: true) ?? TimeSpan.Zero;
        reader.Finish();
        return (EndpointsOf(items) ?? [.. Enumerable.Range(0, map.EndpointCount)], every);
    }

    private List<Invalidation> ReadInvalidations(IReadOnlyList<Node> items)
    {
        var read = new List<Invalidation>();
        if (items.Count > MostPatterns)
        {
            diagnostics.Add(DocumentCodes.OutOfRange, items[MostPatterns].At, $"'invalidate' lists {items.Count:N0} messages; at most {MostPatterns} are matched", "one pattern such as \"/bench/turned/*\" stands for many addresses");
            return read;
        }

        foreach (var item in items)
        {
            if (item is not MapNode node)
            {
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"'invalidate' lists messages, not {item.Shape}", "write it like { on: /bench/turned, reread: all, settle: 500 ms }");
                continue;
            }

            var reader = new MapReader(node, FollowKeys.Invalidate, diagnostics);
            var on = reader.RequireScalar("on");
            var reread = reader.Items("reread");
            var settle = Milliseconds.Read(reader, "settle");
            reader.Finish();
            if (on is null)
                continue;
            var pattern = Encoding.UTF8.GetBytes(on.Text);
            if (OscPattern.Validate(pattern) is var problem and not OscError.None)
                diagnostics.Add(ProfileCodes.BadAddress, on.At, $"'{on.Text}' is not an OSC 1.0 address pattern ({problem})", "write it like /bench/turned");
            else
                read.Add(new Invalidation(pattern, reread is null ? null : EndpointsOf(reread), settle));
        }

        return read;
    }

    /// <summary>The endpoints of all settings that match, rising; null for all.</summary>
    private int[]? EndpointsOf(IReadOnlyList<Node> items)
    {
        var found = new bool[map.EndpointCount];
        foreach (var item in items)
        {
            if (item is not ScalarNode scalar)
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"setting paths belong here, not {item.Shape}", "write it like [\"desk/*\", \"input/*/on\"]");
            else if (scalar.Text == "all")
                return null;
            else if (++_patterns > MostPatterns)
            {
                if (_patterns == MostPatterns + 1)
                    diagnostics.Add(DocumentCodes.OutOfRange, scalar.At, $"'follow' and 'invalidate' name more than {MostPatterns} settings", "a * stands for many of them");
            }
            else
                AddMatches(scalar, found);
        }

        return [.. Enumerable.Range(0, found.Length).Where(endpoint => found[endpoint])];
    }

    private void AddMatches(ScalarNode scalar, bool[] found)
    {
        if (scalar.Text.Split('/').Any(part => part.Count(letter => letter == '*') > 1))
        {
            diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' has two stars in one part", "one * between two slashes is enough");
            return;
        }

        var matched = false;
        foreach (var setting in map.Settings)
        {
            if (!SettingPattern.Matches(scalar.Text, setting.Path))
                continue;
            matched = true;
            found[setting.Endpoint] = true;
        }

        if (!matched && diagnostics.ErrorCount == _errorsBefore)
            diagnostics.Add(ProfileCodes.UnknownSetting, scalar.At, $"'{scalar.Text}' is no setting that this profile maps", "write a path as under settings, with numbers or * for all of them");
    }
}
