using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles;

/// <summary>Reads and compiles a desk profile. All faults are reported at once; a profile with errors is never returned.</summary>
public sealed class ProfileReader
{
    /// <summary>The format line that is read.</summary>
    public const string Format = "statewatch/desk/1";

    private const int MostPatterns = 64;

    private readonly DiagnosticBag _diagnostics;
    private readonly TextPool _texts = new();
    private readonly StripCounts _counts = new();

    private ProfileReader(DiagnosticBag diagnostics) => _diagnostics = diagnostics;

    /// <summary>Reads a profile.</summary>
    /// <returns>The compiled profile, or null after diagnostics.</returns>
    public static DeskProfile? Read(SourceText source, DiagnosticBag diagnostics)
    {
        // Faults that other files already have do not make this profile unusable: theirs and its own are told together.
        var before = diagnostics.ErrorCount;
        var root = YamlText.Read(source, diagnostics);
        return root is null || !FormatLine.Check(root, Format, diagnostics) ? null : new ProfileReader(diagnostics).ReadRoot(source.Name, root, before);
    }

    private DeskProfile? ReadRoot(string file, MapNode root, int errorsBefore)
    {
        var reader = new MapReader(root, ProfileKeys.Root, _diagnostics);
        _ = reader.Take("format");
        var desk = reader.RequireScalar("desk")?.Text ?? "";
        var identity = ReadIdentity(reader.Mapping("identify"));
        var link = ReadLink(reader.RequireMapping("link"));
        ReadStrips(reader.RequireMapping("strips"));
        ReadSlots(reader.Mapping("slots"));
        var behaviour = BehaviourReader.Read(reader.Mapping("behaviour"), _diagnostics);
        var boxes = new StageBoxReader(_counts, _diagnostics).Read(reader.Mapping("boxes"));
        var codecReader = new CodecReader(_texts, _counts, _diagnostics);
        var codecs = codecReader.Read(reader.RequireMapping("codecs"));
        var compiler = new AddressMapCompiler(_texts, _counts, codecs, codecReader.Faulty, _diagnostics);
        compiler.Compile(reader.RequireMapping("settings"));
        var ignored = ReadIgnored(reader.Items("ignore"));
        var follow = new FollowReader(compiler, _diagnostics).Read(reader.Mapping("follow"), reader.Items("invalidate"));
        reader.Finish();
        if (_diagnostics.ErrorCount > errorsBefore)
            return null;
        return new DeskProfile(file, desk, link, identity, _counts, _texts, compiler, ignored) { Boxes = boxes, Behaviour = behaviour, Follow = follow };
    }

    private Identity? ReadIdentity(MapNode? map)
    {
        if (map is null)
            return null;
        var reader = new MapReader(map, ProfileKeys.Identify, _diagnostics);
        var ask = reader.RequireScalar("ask");
        var expect = reader.Items("expect") ?? [];
        reader.Finish();
        if (expect.Count > MostPatterns)
            _diagnostics.Add(DocumentCodes.OutOfRange, expect[MostPatterns].At, $"'expect' lists {expect.Count:N0} texts; at most {MostPatterns} are compared", "list what tells this desk from others: its model and its version");
        if (ask is null || expect.Count > MostPatterns)
            return null;
        var address = Encoding.UTF8.GetBytes(ask.Text);
        if (!OscPattern.IsValidAddress(address))
        {
            _diagnostics.Add(ProfileCodes.BadAddress, ask.At, $"'{ask.Text}' is not an OSC address", "begin with '/' and use no space and none of # * , ? [ ] { }");
            return null;
        }

        foreach (var item in expect)
        {
            if (item is not ScalarNode)
                _diagnostics.Add(DocumentCodes.WrongShape, item.At, $"'expect' lists texts, not {item.Shape}", "write it like expect: [larch, \"2.*\"]");
        }

        return new Identity(address, Questions.Bare(address), [.. expect.OfType<ScalarNode>().Select(item => item.Text)]);
    }

    private LinkSettings ReadLink(MapNode? map)
    {
        var reader = new MapReader(map ?? new MapNode(default, []), ProfileKeys.Link, _diagnostics);
        var transport = map is null ? null : reader.RequireScalar("osc");
        if (transport is not null && !reader.Table.WordsOf("osc").Contains(transport.Text))
            _diagnostics.Add(DocumentCodes.BadValue, transport.At, $"'{transport.Text}' is not a way to reach a desk that is built yet", "write udp", "udp");
        var (host, port) = ReadEndpoint(map is null ? null : reader.RequireScalar("to"));
        var inFlight = reader.WholeNumber("in-flight");
        var perSecond = reader.WholeNumber("per-second");
        var timeOut = Milliseconds.Read(reader, "time-out");
        var rounds = reader.WholeNumber("rounds");
        reader.Finish();
        return new LinkSettings(host, port, inFlight, perSecond, timeOut, rounds);
    }

    private (string Host, int Port) ReadEndpoint(ScalarNode? scalar)
    {
        if (scalar is null)
            return ("", 0);
        if (HostAndPort.TryParse(scalar.Text, out var host, out var port))
            return (host, port);
        _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not an address and port", "write it like 192.0.2.10:9000, port 1 to 65535");
        return ("", 0);
    }

    private void ReadStrips(MapNode? map)
    {
        foreach (var (key, value) in map?.Entries ?? [])
        {
            var banked = key.Text is "socket" or "output";
            if (ProfileKeys.Strips.Find(key.Text) is null)
                MapReader.ReportUnknown(key, ProfileKeys.Strips.Keys, _diagnostics);
            else if (banked && value is MapNode banks)
                ReadBanks(key.Text, banks);
            else if (!banked && value is ScalarNode scalar)
                _counts.AddStrips(key.Text, MapReader.ReadWholeNumber(scalar, $"the number of {key.Text} strips", ProfileKeys.Count, _diagnostics) ?? 0, stereo: false);
            else if (!banked && value is MapNode detail)
            {
                var reader = new MapReader(detail, ProfileKeys.StripDetail, _diagnostics);
                var count = reader.RequireScalar("count");
                var stereo = reader.Flag("stereo");
                reader.Finish();
                if (count is not null)
                    _counts.AddStrips(key.Text, MapReader.ReadWholeNumber(count, $"the number of {key.Text} strips", ProfileKeys.Count, _diagnostics) ?? 0, stereo);
            }
            else
                _diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{key.Text}' cannot be {value.Shape}",
                    banked ? "write its banks: { stage: 48, local: 8 }" : "write a count: 48");
        }
    }

    private void ReadBanks(string kind, MapNode banks)
    {
        foreach (var (bank, value) in banks.Entries)
        {
            if (bank.Text.Length is 0 or > 16 || bank.Text.AsSpan().ContainsAnyExceptInRange('a', 'z'))
                _diagnostics.Add(DocumentCodes.BadValue, bank.At, $"'{bank.Text}' cannot be a bank", "use a word of small letters, such as stage");
            else if (value is ScalarNode scalar)
                _counts.AddBank(kind, bank.Text, MapReader.ReadWholeNumber(scalar, $"the number of {bank.Text} {kind}s", ProfileKeys.Count, _diagnostics) ?? 0);
            else
                _diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{bank.Text}' cannot be {value.Shape}", "write a count: 48");
        }
    }

    private void ReadSlots(MapNode? map)
    {
        foreach (var (key, value) in map?.Entries ?? [])
        {
            if (value is ScalarNode scalar)
                _counts.AddSlots(key.Text, MapReader.ReadWholeNumber(scalar, $"the number of {key.Text} slots", ProfileKeys.Count, _diagnostics) ?? 0);
            else
                _diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{key.Text}' cannot be {value.Shape}", "write a count: 2");
        }
    }

    private List<byte[]> ReadIgnored(IReadOnlyList<Node>? items)
    {
        var patterns = new List<byte[]>();
        // Every message that no setting knows is held against all of them.
        if (items is { Count: > MostPatterns })
        {
            _diagnostics.Add(DocumentCodes.OutOfRange, items[MostPatterns].At, $"'ignore' lists {items.Count:N0} patterns; at most {MostPatterns} are matched", "one pattern such as \"/dial/*\" stands for many addresses");
            return patterns;
        }

        foreach (var item in items ?? [])
        {
            if (item is not ScalarNode scalar)
            {
                _diagnostics.Add(DocumentCodes.WrongShape, item.At, "an address pattern belongs here", "write it like \"/dial/*\"");
                continue;
            }

            var pattern = Encoding.UTF8.GetBytes(scalar.Text);
            if (OscPattern.Validate(pattern) is var problem and not OscError.None)
                _diagnostics.Add(ProfileCodes.BadAddress, scalar.At, $"'{scalar.Text}' is not an OSC 1.0 address pattern ({problem})", "write it like \"/dial/*\"");
            else
                patterns.Add(pattern);
        }

        return patterns;
    }
}
