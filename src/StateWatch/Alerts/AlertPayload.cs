using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Unicode;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Alerts;

/// <summary>
/// Alerts and beats as CloudEvents 1.0 (JSON format, structured mode). One change has one id, the announcement's, however often it is sent; what could not
/// be recorded may get the same number again after a restart, so its id says when it came about.
/// </summary>
/// <param name="names">Whose names may be in it.</param>
internal sealed class AlertPayload(NameHiding names)
{
    /// <summary>The media type of structured mode.</summary>
    public const string MediaType = "application/cloudevents+json";

    /// <summary>The longest subject, in characters; a longer one is hashed.</summary>
    public const int LongestSubject = 255;

    private const string TypePrefix = "statewatch.";
    private const string Schema = "urn:statewatch:alert:1#/$defs/";
    private const int MostListed = 100;

    private static readonly AlertJson Json = new(new JsonSerializerOptions
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
    });

    /// <summary>The id of an alert: key#episode#transition, and of one that is not recorded its time besides.</summary>
    public static string IdOf(WaitingAlert waiting)
    {
        var told = waiting.Alert.Told;
        var id = waiting.Unrecorded == 0 ? told.Id : $"{told.Id}#unrecorded-{told.At.Wall.UtcDateTime:yyyyMMdd'T'HHmmssfff}";
        return IsPlain(id) ? id : Hashed(id);
    }

    /// <summary>The id of a beat.</summary>
    public static string IdOf(DeskStatus status) => $"{status.Desk}#beat#{Utc(status.At.Wall)}";

    /// <summary>The source of whatever is told of a desk.</summary>
    /// <param name="desk">site/desk.</param>
    public static string SourceOf(string desk)
    {
        var (site, name) = (DeskKey.SiteOf(desk), DeskKey.NameOf(desk));
        return $"urn:statewatch:{Uri.EscapeDataString(site)}/{Uri.EscapeDataString(name)}";
    }

    /// <summary>An alert.</summary>
    public byte[] Of(WaitingAlert waiting) => waiting.Alert.Told.Digest is null
        ? JsonSerializer.SerializeToUtf8Bytes(Event(waiting, $"finding.{AlertWording.Word(waiting.Alert.Told.Level.Kind)}", "finding", Finding(waiting)), Json.AlertEventFindingData)
        : JsonSerializer.SerializeToUtf8Bytes(Event(waiting, "digest", "digest", Digest(waiting)), Json.AlertEventDigestData);

    /// <summary>A beat: how a desk stands.</summary>
    public byte[] Of(DeskStatus status)
    {
        var time = Utc(status.At.Wall);
        return JsonSerializer.SerializeToUtf8Bytes(
            new AlertEvent<DeskData>("1.0", IdOf(status), SourceOf(status.Desk), TypePrefix + "beat", Short(status.Desk), time, "application/json", Schema + "desk",
                null, null, null, null, Desk(status)),
            Json.AlertEventDeskData);
    }

    private static AlertEvent<TData> Event<TData>(WaitingAlert waiting, string type, string schema, TData data)
    {
        var told = waiting.Alert.Told;
        return new AlertEvent<TData>("1.0", IdOf(waiting), SourceOf(FindingKeys.DeskOf(told.Key)), TypePrefix + type, Short(told.Subject), Utc(told.At.Wall), "application/json", Schema + schema,
            SequenceOf(waiting), waiting is { Unrecorded: 0, RecordedAt: { } recorded } ? Utc(recorded) : null, told.Level.Severity.Word(), SeverityNumbers.Of(told.Level.Severity), data);
    }

    // Compared as text it gives the order in which alerts were sent to a sink.
    private static string SequenceOf(WaitingAlert waiting)
    {
        var row = waiting.Row.ToString("D19", CultureInfo.InvariantCulture);
        return waiting.Unrecorded == 0 ? row : $"{row}.{waiting.Unrecorded:D6}";
    }

    private FindingData Finding(WaitingAlert waiting)
    {
        var alert = waiting.Alert;
        var (told, words) = (alert.Told, alert.Words);
        var (site, desk) = PartsOf(told.Key);
        return new FindingData(site, desk, names.Hide(alert.Show, null), alert.Phase.Word(), alert.Cue is { } cue ? names.Hide(cue, null) : null,
            told.Key, RuleOf(words, told.Key), told.Level.Episode, told.Level.Transition, AlertWording.Word(told.Level.Kind), AlertWording.Word(told.Condition), told.Level.Severity.Word(),
            AlertWording.Text(words, told.Key, names), words is null ? null : names.Hide(words.Why, words), words is null ? null : names.Hide(words.Do, words),
            words?.Strip, names.Name(words), words?.Setting, words is null ? null : names.Value(words.Planned, words), words is null ? null : names.Value(words.Live, words), words?.PlanAt,
            names.Person(told.By), names.Reason(told.Why), [.. told.Members.Take(MostListed)], told.Members.Count, waiting.Unrecorded == 0, waiting.Gap);
    }

    private DigestData Digest(WaitingAlert waiting)
    {
        var alert = waiting.Alert;
        var (site, desk) = PartsOf(alert.Told.Key);
        return new DigestData(site, desk, names.Hide(alert.Show, null), alert.Phase.Word(), alert.Cue is { } cue ? names.Hide(cue, null) : null, AlertWording.Text(alert, names),
            [.. alert.Told.Digest!.Take(MostListed).Select((line, number) => Line(line, AlertWording.WordsOf(alert, number)))], alert.Told.Digest!.Count, waiting.Unrecorded == 0, waiting.Gap);
    }

    private DigestLineData Line(DigestLine line, AlertWords? words) =>
        new(line.Key, RuleOf(words, line.Key), line.Level.Episode, line.Level.Transition, AlertWording.Word(line.Level.Kind), line.Severity.Word(), line.Passed,
            AlertWording.Text(words, line.Key, names), words is null ? null : names.Hide(words.Do, words), words?.Strip, names.Name(words), words?.Setting,
            words is null ? null : names.Value(words.Planned, words), words is null ? null : names.Value(words.Live, words));

    private DeskData Desk(DeskStatus status)
    {
        var (site, desk) = (DeskKey.SiteOf(status.Desk), DeskKey.NameOf(status.Desk));
        var standing = status.Standing.Where(static one => one.Record.Level.IsOpen).ToArray();
        var count = StandingCount.Of(standing.Select(static one => one.Record.Level));
        return new DeskData(site, desk, names.Hide(status.Show, null), status.Phase.Word(), status.Cue is { } cue ? names.Hide(cue, null) : null, Utc(status.Since),
            status.Following.ToString().ToLowerInvariant(), status.Session, Seconds(status.SilentFor), status.ReadAgo is { } ago ? Seconds(ago) : null,
            new CoverageData(status.Coverage.Planned, status.Coverage.Verified, status.Coverage.CannotTell),
            new CountData(count.Urgent, count.Warning, count.Notice, count.Acknowledged, count.Held),
            [.. standing.Take(MostListed).Select(Standing)], standing.Length,
            status.Next is { } next ? new NextPhaseData(Utc(next.At), next.Phase.Word()) : null);
    }

    private StandingData Standing(StoredFinding one) =>
        new(one.Record.Key, one.Record.Level.Episode, AlertWording.Word(one.Record.Level.Kind), one.Record.Level.Severity.Word(), AlertWording.Text(one.Words, one.Record.Key, names));

    private static (string Site, string Desk) PartsOf(string key) => FindingKeys.DeskOf(key) is var desk ? (DeskKey.SiteOf(desk), DeskKey.NameOf(desk)) : default;

    private static string RuleOf(AlertWords? words, string key)
    {
        if (words is not null)
            return words.Rule;
        var finding = FindingKeys.IdOf(key);
        return finding.IndexOf(':', StringComparison.Ordinal) is var colon and > 0 ? finding[..colon] : finding;
    }

    private static string Short(string subject) => subject.Length <= LongestSubject && IsPlain(subject) ? subject : Hashed(subject);

    private static string Hashed(string text) => $"sha256:{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))}";

    // CloudEvents 1.0, "Type System": a string holds no control characters, no halves of pairs and no noncharacters.
    private static bool IsPlain(string text)
    {
        foreach (var rune in text.EnumerateRunes())
        {
            if (Rune.IsControl(rune) || rune == Rune.ReplacementChar || (rune.Value & 0xFFFE) == 0xFFFE || rune.Value is >= 0xFDD0 and <= 0xFDEF)
                return false;
        }

        return true;
    }

    private static double Seconds(TimeSpan span) => Math.Round(span.TotalSeconds, 1);

    private static string Utc(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
