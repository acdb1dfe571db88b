using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles;

/// <summary>A compiled desk profile: every setting has a dense id, every address its slots. Immutable.</summary>
public sealed class DeskProfile
{
    private readonly Dictionary<string, int> _ids;
    private readonly Dictionary<string, Strip> _strips;
    private readonly int[][] _settingsOf;
    private readonly Lazy<OscAddressTable> _addresses;

    internal DeskProfile(string file, string desk, LinkSettings link, Identity? identity, StripCounts counts, TextPool texts,
        AddressMapCompiler map, IReadOnlyList<byte[]> ignored)
    {
        File = file;
        Desk = desk;
        Link = link;
        Identity = identity;
        Counts = counts;
        Texts = texts;
        Strips = map.Strips;
        Settings = map.Settings;
        Endpoints = map.BuildEndpoints();
        Ignored = ignored;
        _addresses = new Lazy<OscAddressTable>(() => new OscAddressTable([.. Endpoints.Select(endpoint => endpoint.Address)]));
        _ids = map.SettingByPath;
        _strips = map.StripByPath;
        _settingsOf = map.GroupByStrip();
    }

    /// <summary>The file it was read from.</summary>
    public string File { get; }

    /// <summary>The desk's model name.</summary>
    public string Desk { get; }

    /// <summary>How to reach the desk and at which pace.</summary>
    public LinkSettings Link { get; }

    /// <summary>How the desk says who it is, or null when it is not asked.</summary>
    public Identity? Identity { get; }

    /// <summary>How many strips of each kind there are.</summary>
    public StripCounts Counts { get; }

    /// <summary>Every text that plan, profile and desk name.</summary>
    public TextPool Texts { get; }

    /// <summary>All strips that have settings, by id.</summary>
    public IReadOnlyList<Strip> Strips { get; }

    /// <summary>All settings, by id.</summary>
    public IReadOnlyList<Setting> Settings { get; }

    /// <summary>All addresses, by endpoint id; the question of an endpoint has the same number.</summary>
    public IReadOnlyList<Endpoint> Endpoints { get; }

    /// <summary>Address to endpoint id. Built when first asked for: checking a plan needs no desk.</summary>
    public OscAddressTable Addresses => _addresses.Value;

    /// <summary>Patterns of messages that mean nothing.</summary>
    public IReadOnlyList<byte[]> Ignored { get; }

    /// <summary>What the desk does that no setting tells.</summary>
    public DeskBehaviour Behaviour { get; init; } = DeskBehaviour.Usual;

    /// <summary>How the desk is followed after it was read once.</summary>
    public required FollowSettings Follow { get; init; }

    /// <summary>Which sockets and outputs sit on which stage box.</summary>
    public StageBoxes Boxes { get; init; } = StageBoxes.None;

    /// <summary>The id of a setting path, or -1 when the profile does not see it.</summary>
    public int Find(string path) => _ids.TryGetValue(path, out var id) ? id : -1;

    /// <summary>The id of a setting path, or -1 when the profile does not see it; no string is made.</summary>
    public int Find(ReadOnlySpan<char> path) =>
        _ids.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(path, out var id) ? id : -1;

    /// <summary>The strip at a path such as <c>input/12</c>, or null.</summary>
    public Strip? FindStrip(string path) => _strips.GetValueOrDefault(path);

    /// <summary>The settings of a strip, by setting id.</summary>
    /// <param name="strip">Strip id.</param>
    public ReadOnlySpan<int> SettingsOf(int strip) => _settingsOf[strip];

    /// <summary>The whole datagram of a question, by its number (see <see cref="Links.IDeskReader"/>).</summary>
    /// <exception cref="ArgumentOutOfRangeException">The profile has no such question.</exception>
    public byte[] QuestionOf(int question) => question switch
    {
        Links.IDeskReader.IdentityQuestion => Identity?.Question ?? throw new ArgumentOutOfRangeException(nameof(question), "This profile has no identity question."),
        Links.IDeskReader.KeepAliveQuestion => Follow.KeepAlive?.Question ?? throw new ArgumentOutOfRangeException(nameof(question), "This profile has no keep-alive."),
        _ => Endpoints[question].Question,
    };

    /// <summary>Writes a value as people read it.</summary>
    public string Format(SettingValue value) => ValueText.Format(value, Texts);
}

/// <summary>A strip of the desk.</summary>
/// <param name="Id">Dense id.</param>
/// <param name="Kind">Kind word: <c>input</c>, <c>mix</c>, <c>socket</c> …; <c>desk</c> for the desk itself.</param>
/// <param name="Bank">Bank of a socket or output, else empty.</param>
/// <param name="Number">Number from 1; 0 for the desk itself.</param>
public sealed record Strip(int Id, string Kind, string Bank, int Number)
{
    /// <summary>The path, such as <c>input/12</c> or <c>socket/stage-7</c>.</summary>
    public string Path { get; } = Bank.Length > 0 ? $"{Kind}/{Bank}-{Number}" : Number > 0 ? $"{Kind}/{Number}" : Kind;
}

/// <summary>One setting of one strip.</summary>
/// <param name="id">Dense id.</param>
/// <param name="path">Path, such as <c>input/31/send/mix/3/tap</c>.</param>
/// <param name="strip">Its strip's id.</param>
/// <param name="endpoint">The endpoint that carries it.</param>
/// <param name="mapping">The profile line that maps it.</param>
public sealed class Setting(int id, string path, int strip, int endpoint, SettingMapping mapping)
{
    /// <summary>Dense id.</summary>
    public int Id { get; } = id;

    /// <summary>Path, such as <c>input/31/send/mix/3/tap</c>.</summary>
    public string Path { get; } = path;

    /// <summary>Its strip's id.</summary>
    public int Strip { get; } = strip;

    /// <summary>The endpoint that carries it.</summary>
    public int Endpoint { get; } = endpoint;

    /// <summary>Its row of the catalogue.</summary>
    public SettingKind Kind => mapping.Kind;

    /// <summary>How it travels.</summary>
    public Codec Codec => mapping.Codec;

    /// <summary>What it is after a reset of the desk.</summary>
    public SettingValue Reset => mapping.Reset;

    /// <summary>Where the profile maps it.</summary>
    public Origin At => mapping.At;

    /// <inheritdoc/>
    public override string ToString() => Path;
}

/// <summary>What all settings of one profile line have in common.</summary>
/// <param name="Kind">Their row of the catalogue.</param>
/// <param name="Codec">How they travel.</param>
/// <param name="Reset">What they are after a reset of the desk.</param>
/// <param name="At">Where the profile maps them.</param>
public sealed record SettingMapping(SettingKind Kind, Codec Codec, SettingValue Reset, Origin At);

/// <summary>One address of the desk, what its message carries, and the question that makes the desk send it.</summary>
/// <param name="id">Dense id.</param>
/// <param name="address">The OSC address.</param>
/// <param name="slots">What its arguments hold, by argument and bit.</param>
public sealed class Endpoint(int id, byte[] address, Slot[] slots)
{
    private byte[]? _question;

    /// <summary>Dense id.</summary>
    public int Id { get; } = id;

    /// <summary>The OSC address.</summary>
    public byte[] Address { get; } = address;

    /// <summary>What its arguments hold, by argument and bit.</summary>
    public Slot[] Slots { get; } = slots;

    /// <summary>The whole datagram that asks for it: the bare address, no arguments. Made when first asked for, then always the same.</summary>
    public byte[] Question => _question ??= Questions.Bare(Address);
}

/// <summary>One setting's place in a message.</summary>
/// <param name="Argument">Argument index, from 0.</param>
/// <param name="Bit">Bit of an int argument, 0 the lowest; -1 when the whole argument is the value.</param>
/// <param name="Setting">Setting id.</param>
public readonly record struct Slot(int Argument, int Bit, int Setting);

/// <summary>How to reach the desk and at which pace to ask.</summary>
/// <param name="Host">Host name or address.</param>
/// <param name="Port">UDP port.</param>
/// <param name="InFlight">Most questions without an answer yet, 1 to 128.</param>
/// <param name="PerSecond">Most questions a second.</param>
/// <param name="TimeOut">How long an answer may take.</param>
/// <param name="Rounds">How often one setting is asked at the most.</param>
public sealed record LinkSettings(string Host, int Port, int InFlight, int PerSecond, TimeSpan TimeOut, int Rounds);

/// <summary>How the desk says who it is.</summary>
/// <param name="Address">The address that is asked.</param>
/// <param name="Question">The whole datagram.</param>
/// <param name="Expected">What argument 1, 2, … must read as; <c>*</c> stands for any run of characters.</param>
public sealed record Identity(byte[] Address, byte[] Question, IReadOnlyList<string> Expected);
