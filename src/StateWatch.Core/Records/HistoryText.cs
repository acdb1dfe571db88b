using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Records;

/// <summary>Writes a report for people, in local time.</summary>
public sealed class HistoryText
{
    private const int MostLines = 200;
    private readonly HistoryReport _report;
    private readonly TimeZoneInfo _zone;
    private readonly TextPage _page;
    private readonly bool _isSummary;
    private readonly int _desks;

    private HistoryText(HistoryReport report, TimeZoneInfo zone, int width)
    {
        (_report, _zone, _page) = (report, zone, new TextPage(width));
        _isSummary = report.Question.Parts == HistoryParts.All;
        _desks = report.Findings.Select(static one => one.Desk).Concat(report.Changes.Select(static one => one.Desk)).Concat(report.Happenings.Select(static one => one.Desk))
            .Concat(report.Coverage.Select(static one => one.Desk)).Distinct(StringComparer.Ordinal).Count();
    }

    /// <summary>The text.</summary>
    /// <param name="report">The report.</param>
    /// <param name="zone">The time zone in which times are told.</param>
    /// <param name="width">Widest line, in characters.</param>
    public static string Write(HistoryReport report, TimeZoneInfo zone, int width = 120) => new HistoryText(report, zone, width).Write();

    private string Write()
    {
        var question = _report.Question;
        var (from, to) = question.Time;
        var about = question.Desk ?? "all desks";
        if (question.Parts == HistoryParts.Shows)
            _page.Add($"Shows of {about} in {question.Place}, from {Whole(from)} to {Whole(to)}");
        else if (question.Show is { } show)
            _page.Add($"{show.Show}, {about}: {Whole(from)} to {When(to)} ({HistoryWords.Of(to - from)}{(show.Ended is null ? ", still going on" : show.IsEndSeen ? "" : ", its end was not recorded")})");
        else if (question.IsWithoutShow)
            _page.Add($"{about}: no show is recorded, so this is the last day of the record, {Whole(from)} to {Whole(to)}");
        else
            _page.Add($"{about}: {Whole(from)} to {Whole(to)} ({HistoryWords.Of(to - from)})");
        if (question.Parts.HasFlag(HistoryParts.Findings))
            Findings();
        if (question.Parts.HasFlag(HistoryParts.Changes))
            Changes();
        if (question.Parts.HasFlag(HistoryParts.Coverage))
            Coverage();
        if (question.Parts.HasFlag(HistoryParts.Load))
            Load();
        if (question.Parts.HasFlag(HistoryParts.Shows))
            Shows();
        return _page.ToString();
    }

    private void Findings()
    {
        var findings = _report.Findings;
        var standing = findings.Count(static episode => episode.Cleared is null);
        Head($"FINDINGS: {findings.Count}{(findings.Count == 0 ? "" : $", {Count(findings, Severity.Urgent)} urgent, {HistoryWords.Of(Count(findings, Severity.Warning), "warning")}, {HistoryWords.Of(Count(findings, Severity.Notice), "notice")}; {standing} still stood at the end")}");
        var own = findings.Where(static episode => !episode.IsFolded).ToList();
        foreach (var episode in own.Take(MostLines))
        {
            var words = episode.Words;
            var known = episode.AcknowledgedBy is { } by ? $"; acknowledged by {by} after {HistoryWords.Of((episode.AcknowledgedAt ?? episode.Raised) - episode.Raised)}" : "";
            var back = episode.Relapses == 0 ? "" : episode.Relapses == 1 ? "; came back once" : $"; came back {episode.Relapses} times";
            var stood = episode.Cleared is null ? $"stands for {HistoryWords.Of(episode.Stood(_report.Question.Time.To))}" : $"{HistoryWords.Of(episode.Stood(_report.Question.Time.To))}{Why(episode.ClearedFor)}";
            _page.Add($"{words?.Text ?? FindingKeys.IdOf(episode.Key)} ({stood}{known}{back}){Of(episode.Desk)}", $"  {When(episode.Raised)}  {episode.Severity?.Word() ?? "?",-8}", 12);
        }

        if (findings.Count > own.Count)
            _page.Add($"and {findings.Count - own.Count} that were told only as part of a bulk change", "  ", 2);
        More(own.Count);
    }

    private void Changes()
    {
        var strips = _report.Changes;
        var moves = strips.SelectMany(static strip => strip.Moves).ToList();
        Head($"CHANGES: {HistoryWords.Of(moves.Count, "setting")} on {HistoryWords.Of(strips.Count, "strip")}{(moves.Count == 0 ? "" : $"; {moves.Count(static move => move.IsPlanned)} of them planned, {moves.Count(static move => move.Differs)} with another value than before")}");
        if (_isSummary)
        {
            foreach (var strip in strips.Take(12))
                _page.Add($"{HistoryWords.Of(strip.Moves.Count, "setting")}{(strip.Moves.Count(static move => move is { IsPlanned: true, Differs: true }) is > 0 and var planned ? $", {planned} of them planned and now with another value" : "")}", $"  {Title(strip)}: ", 4);
            if (strips.Count > 12)
                _page.Add($"{strips.Count - 12} more strips: statewatch history --what changes", "  ", 2);
            return;
        }

        var lines = 0;
        foreach (var strip in strips)
        {
            if (lines++ >= MostLines)
                break;
            _page.Add(Title(strip), "  ", 2);
            foreach (var move in strip.Moves.Take(MostLines))
            {
                lines++;
                var what = move.Differs ? $"{move.Before ?? "not known"} -> {move.After ?? "not known"}" : $"moved and back, now {move.After ?? "not known"}";
                var times = move.Changes == 1 ? "" : $" ({move.Changes} changes from {When(move.First)} on)";
                _page.Add($"{move.Setting}: {what}{times}{(move.IsPlanned ? "" : ", not planned")}", $"    {When(move.Last)}  ", 14);
            }
        }

        More(moves.Count + strips.Count);
    }

    private void Coverage()
    {
        Head($"COVERAGE{(_report.Coverage.Count == 0 ? ": no sample in this time; one is taken each minute while somebody watches" : "")}");
        foreach (var desk in _report.Coverage)
        {
            var whole = desk.Whole;
            _page.Add($"worst {HistoryWords.Percent(whole.Worst ?? 0)} at {When(desk.WorstAt ?? whole.Time.From)}, mean {HistoryWords.Percent(whole.Mean ?? 0)} of the plan seen{(whole.CannotTell > 0 ? $"; up to {HistoryWords.Of(whole.CannotTell, "check")} could not tell" : "")}", $"  {desk.Desk}: ", 4);
            foreach (var gap in desk.Gaps.Take(20))
                _page.Add($"nobody watched from {When(gap.From)} to {When(gap.To)} ({HistoryWords.Of(gap.Length)})", "    ", 4);
            if (_isSummary)
                continue;
            foreach (var (time, worst, mean) in Alike(desk.Parts))
                _page.Add($"worst {HistoryWords.Percent(worst)}, mean {HistoryWords.Percent(mean)}", $"    {When(time.From)} to {When(time.To)}  ", 4);
        }
    }

    // Parts that say the same, one after the other, are one line.
    private static IEnumerable<(TimeStretch Time, double Worst, double Mean)> Alike(IReadOnlyList<CoveragePart> parts)
    {
        (TimeStretch Time, double Worst, double Mean)? last = null;
        foreach (var part in parts.Where(static part => part.Samples > 0))
        {
            if (last is { } known && known.Time.To == part.Time.From && known.Worst == part.Worst && known.Mean == part.Mean)
            {
                last = known with { Time = known.Time with { To = part.Time.To } };
                continue;
            }

            if (last is { } whole)
                yield return whole;
            last = (part.Time, part.Worst!.Value, part.Mean!.Value);
        }

        if (last is { } rest)
            yield return rest;
    }

    private void Load()
    {
        var load = _report.Load;
        Head($"ALARM LOAD: {HistoryWords.Of(load.Alarms, "alarm")} in {HistoryWords.Of(load.Watched)} of watching: {load.Mix.Urgent} urgent, {HistoryWords.Of(load.Mix.Warning, "warning")}, {HistoryWords.Of(load.Mix.Notice, "notice")}");
        foreach (var figure in LoadFigure.Of(load).Where(figure => !_isSummary || figure.IsMet == false || figure.Id is "average-10-min" or "peak-10-min"))
        {
            var verdict = figure.IsMet switch { true => "ok", false => "TOO MANY", _ => "" };
            _page.Add($"{figure.Text}: {figure.Shown}; goal {figure.Goal}{(_isSummary ? "" : $" ({figure.Source})")}", $"  {verdict,-8} ", 11);
        }

        if (load.Alarms == 0 && _report.Findings.Any(static episode => !episode.IsFolded))
            _page.Add("Nobody was told of these findings: the watch had no sinks, or they were held, or mattered less than any sink is told.", "  ", 2);
        if (_isSummary)
            return;
        foreach (var (key, alarms) in load.Top)
            _page.Add($"{HistoryWords.Of(alarms, "alarm")}: {key}", "  most often: ", 4);
        foreach (var key in load.Chattering)
            _page.Add(key, "  chatters: ", 4);
        if (load.Watched < TimeSpan.FromDays(30))
            _page.Add("Goals are meant for 30 days and more. Of single shows, compare several that are alike.", "  ", 2);
    }

    private void Shows()
    {
        if (!_isSummary)
        {
            Head($"SHOWS: {_report.Shows.Count}");
            foreach (var show in _report.Shows.TakeLast(MostLines))
            {
                var period = show.Period;
                var end = period.Ended is { } ended ? $"{HistoryWords.Of(ended - period.Began)}{(period.IsEndSeen ? "" : ", end not recorded")}" : "still going on";
                var seen = show.WorstCoverage is { } worst ? $", worst coverage {HistoryWords.Percent(worst)}" : "";
                _page.Add($"{period.Show} on {period.Desk} ({end}): {HistoryWords.Of(show.Findings, "finding")}, {show.Urgent} urgent, {HistoryWords.Of(show.Alarms, "alarm")}{seen}", $"  {Whole(period.Began)}  ", 4);
            }
        }

        var lines = _report.Happenings.Where(line => !_isSummary || IsNotable(line.Event.Kind)).ToList();
        if (lines.Count == 0)
            return;
        Head("WHAT HAPPENED");
        foreach (var line in lines.TakeLast(MostLines))
            _page.Add($"{HistoryWords.Of(line.Event.Kind)}{(line.Event.Text.Length == 0 ? "" : $": {line.Event.Text}")}{(line.Event.By is { } by ? $", by {by}" : "")}{Of(line.Desk)}", $"  {When(line.Event.At)}  ", 12);
    }

    private static bool IsNotable(ShowEventKind kind) =>
        kind is not (ShowEventKind.ReadEnded or ShowEventKind.ReadAgain or ShowEventKind.BaselineTaken);

    private static int Count(IReadOnlyList<FindingEpisode> findings, Severity severity) => findings.Count(episode => episode.Severity == severity);

    private static string Why(string? reason) => reason switch
    {
        "plan-changed" => ", until the plan changed",
        "phase-changed" => ", until the phase changed",
        _ => "",
    };

    // Which desk, where there is more than one.
    private string Of(string desk) => _desks > 1 ? $" [{desk}]" : "";

    private string Title(StripMove strip) => $"{strip.Strip}{(strip.Name is { } name ? $" {name}" : "")}{Of(strip.Desk)}";

    private void Head(string text)
    {
        _page.Blank();
        _page.Add(text);
    }

    private void More(int count)
    {
        if (count > MostLines)
            _page.Add($"… and more: narrow it with --from and --to, or ask for --format csv.", "  ", 2);
    }

    // The day only in a report of more than one.
    private string When(DateTimeOffset time) => Local(time, DayOf(_report.Question.Time.From) == DayOf(_report.Question.Time.To) ? "HH:mm:ss" : "yyyy-MM-dd HH:mm:ss");

    private DateTime DayOf(DateTimeOffset time) => TimeZoneInfo.ConvertTime(time, _zone).Date;

    private string Whole(DateTimeOffset time) => Local(time, "ddd yyyy-MM-dd HH:mm:ss zzz");

    private string Local(DateTimeOffset time, string format) => TimeZoneInfo.ConvertTime(time, _zone).ToString(format, CultureInfo.InvariantCulture);
}
