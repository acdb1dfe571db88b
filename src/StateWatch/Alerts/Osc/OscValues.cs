using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts.Osc;

/// <summary>What may go into the placeholders of an OSC message, for one alert or for the state of a desk.</summary>
/// <param name="Alert">The alert; null of a state.</param>
/// <param name="Desks">Of a state: the desks that it is of, one or all.</param>
/// <param name="Count">Of a state: what stands at them.</param>
internal sealed record OscValues(Alert? Alert, IReadOnlyCollection<DeskStatus> Desks, StandingCount? Count)
{
    private const string Nothing = "none";

    // The watch's own ledger has findings, but no desk, phase or coverage.
    private IEnumerable<DeskStatus> Real => Desks.Where(static desk => DeskKey.NameOf(desk.Desk) != DeskKey.Own).DefaultIfEmpty(Desks.First());

    // Of several desks the one with the gravest findings is the one to look at.
    private DeskStatus Status => Real.MaxBy(static desk => StandingCount.Of(desk.Standing.Select(static one => one.Record.Level)).Worst is { } worst ? (int)worst : -1)!;

    /// <summary>Words that a state's severity may be.</summary>
    public static IReadOnlyList<string> Severities { get; } = [Nothing, .. Enum.GetValues<Severity>().Select(static severity => severity.Word())];

    /// <summary>Placeholders that an alert's message may have.</summary>
    public static IReadOnlyDictionary<string, OscPlaceholder> OfAlert { get; } = new Dictionary<string, OscPlaceholder>(StringComparer.Ordinal)
    {
        ["text"] = new(static one => AlertWording.Text(one.Alert!, NameHiding.None)),
        ["why"] = new(static one => one.Alert!.Words?.Why ?? ""),
        ["do"] = new(static one => one.Alert!.Words?.Do ?? ""),
        ["state"] = new(static one => one.Alert!.Told.Digest is null ? AlertWording.Word(one.Alert.Told.Level.Kind) : "digest")
        {
            Words = ["digest", .. Enum.GetValues<LevelKind>().Select(AlertWording.Word)],
        },
        ["severity"] = new(static one => one.Alert!.Told.Level.Severity.Word()) { Words = Severities },
        ["severitynumber"] = OscPlaceholder.Number(static one => SeverityNumbers.Of(one.Alert!.Told.Level.Severity)),
        ["site"] = new(static one => DeskKey.SiteOf(FindingKeys.DeskOf(one.Alert!.Told.Key))),
        ["desk"] = new(static one => DeskKey.NameOf(FindingKeys.DeskOf(one.Alert!.Told.Key))),
        ["show"] = new(static one => one.Alert!.Show),
        ["phase"] = new(static one => one.Alert!.Phase.Word()) { Words = Phases.All },
        ["cue"] = new(static one => one.Alert!.Cue ?? ""),
        ["rule"] = new(static one => one.Alert!.Words?.Rule ?? ""),
        ["strip"] = new(static one => one.Alert!.Words?.Strip ?? ""),
        ["name"] = new(static one => one.Alert!.Words?.Name ?? ""),
        ["setting"] = new(static one => one.Alert!.Words?.Setting ?? ""),
        ["planned"] = new(static one => one.Alert!.Words?.Planned ?? ""),
        ["live"] = new(static one => one.Alert!.Words?.Live ?? ""),
        ["by"] = new(static one => one.Alert!.Told.By ?? ""),
        ["key"] = new(static one => one.Alert!.Told.Key),
        ["episode"] = OscPlaceholder.Number(static one => one.Alert!.Told.Level.Episode),
    };

    /// <summary>Placeholders that a state's message may have.</summary>
    public static IReadOnlyDictionary<string, OscPlaceholder> OfState { get; } = new Dictionary<string, OscPlaceholder>(StringComparer.Ordinal)
    {
        ["severity"] = new(static one => one.Count!.Worst?.Word() ?? Nothing) { Words = Severities },
        ["severitynumber"] = OscPlaceholder.Number(static one => one.Count!.Worst is { } worst ? SeverityNumbers.Of(worst) : 0),
        ["count"] = OscPlaceholder.Number(static one => one.Count!.Open),
        ["urgent"] = OscPlaceholder.Number(static one => one.Count!.Urgent),
        ["warning"] = OscPlaceholder.Number(static one => one.Count!.Warning),
        ["notice"] = OscPlaceholder.Number(static one => one.Count!.Notice),
        ["acknowledged"] = OscPlaceholder.Number(static one => one.Count!.Acknowledged),
        ["held"] = OscPlaceholder.Number(static one => one.Count!.Held),
        ["coverage"] = OscPlaceholder.Number(static one => one.Real.Min(static desk => desk.Coverage is { Planned: > 0 } seen ? (int)(100L * seen.Verified / seen.Planned) : 0)),
        ["following"] = new(static one => one.Real.Min(static desk => desk.Following).ToString().ToLowerInvariant()) { Words = [.. Enum.GetNames<FollowPhase>().Select(static name => name.ToLowerInvariant())] },
        ["site"] = new(static one => DeskKey.SiteOf(one.Status.Desk)),
        ["desk"] = new(static one => DeskKey.NameOf(one.Status.Desk)),
        ["show"] = new(static one => one.Status.Show),
        ["phase"] = new(static one => one.Status.Phase.Word()) { Words = Phases.All },
        ["cue"] = new(static one => one.Status.Cue ?? ""),
    };
}

/// <summary>One placeholder.</summary>
/// <param name="Text">What goes in.</param>
internal sealed record OscPlaceholder(Func<OscValues, string> Text)
{
    /// <summary>Whether it is a whole number, so that it may go into a number.</summary>
    public bool IsNumber { get; private init; }

    /// <summary>All words that it may be; null when it may be any text.</summary>
    public IReadOnlyList<string>? Words { get; init; }

    public static OscPlaceholder Number(Func<OscValues, int> number) => new(one => number(one).ToString(CultureInfo.InvariantCulture)) { IsNumber = true };
}
