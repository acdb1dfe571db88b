using System.Runtime.CompilerServices;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>
/// Collects what plan lines say about settings and finds, for each setting, the line that wins. Two lines of equal weight that
/// disagree are a conflict.
/// </summary>
internal sealed class StatementTable(DeskProfile profile, ToleranceTable tolerances, DiagnosticBag diagnostics)
{
    // The newest statement of each setting; it knows the earlier ones.
    private readonly Expectation?[] _newest = new Expectation?[profile.Settings.Count];

    // One line says the same of many settings: what it says is made once.
    private readonly Dictionary<(ScalarNode Value, SettingKind Kind, int Rank), Statement> _said = new(SaidComparer.Instance);
    private readonly List<Statement> _statements = [];
    private readonly HashSet<Origin> _reported = [];

    // Looking through every path of a desk takes milliseconds; a hostile file could ask for it a hundred thousand times.
    private const int MostSuggestions = 20;

    // The desk's own grid is rounded: a tenth of a decibel must not be smaller than a step of a tenth.
    private const double Slack = 1e-6;
    private int _suggestions;

    /// <summary>How much the plan may still say.</summary>
    public WorkLimit Limit { get; } = new();

    private Statement? _lastSwitch;

    /// <summary>Says that a setting must have a value, spelled as in the plan.</summary>
    /// <param name="path">Setting path.</param>
    /// <param name="value">The value as written.</param>
    /// <param name="text">The value's text; the scalar's own, or a name made from it.</param>
    /// <param name="rank">Weight.</param>
    public void Say(string path, ScalarNode value, string text, int rank)
    {
        var id = Find(path, value.At);
        if (id >= 0 && text != "any")
            SayById(id, value, text, rank);
    }

    /// <summary>Says that a setting the profile sees must have a value, spelled as in the plan.</summary>
    public void SayById(int id, ScalarNode value, string text, int rank)
    {
        var setting = profile.Settings[id];
        var asWritten = ReferenceEquals(text, value.Text);
        if (!asWritten || !_said.TryGetValue((value, setting.Kind, rank), out var statement))
        {
            if (Read(setting, value, text, rank) is not { } read)
                return;
            statement = read;
            _statements.Add(statement);
            if (asWritten)
                _said.Add((value, setting.Kind, rank), statement);
        }

        Add(id, statement);
    }

    /// <summary>Says that a switch must be on or off.</summary>
    public void Say(string path, bool on, Origin at, int rank)
    {
        var id = Find(path, at);
        if (id >= 0)
            SayById(id, on, at, rank);
    }

    /// <summary>Says that a switch, choice or point the profile sees must be on, or off (none).</summary>
    public void SayById(int id, bool on, Origin at, int rank)
    {
        var codec = profile.Settings[id].Codec;
        SettingValue value;
        if (codec.Kind == ValueKind.Switch)
            value = SettingValue.Switch(on);
        else if (on || !codec.TryParse("none", out value, out _))
            return;
        if (_lastSwitch is not { } last || last.Planned != value || last.Rank != rank || last.At != at)
            _statements.Add(_lastSwitch = last = new Statement(value, value, value, rank, at));
        Add(id, last);
    }

    /// <summary>The winning expectation of every setting, in order of id; conflicts are reported.</summary>
    public List<Expectation> Resolve()
    {
        var winners = new List<Expectation>(_newest.Length / 2);
        foreach (var newest in _newest)
        {
            if (newest is null)
                continue;
            var winner = newest;
            for (var other = newest.Earlier; other is not null; other = other.Earlier)
            {
                // Of two equals the line that stands first wins, so that the conflict is told at the other.
                if (other.Rank >= winner.Rank)
                    winner = other;
            }

            winners.Add(winner);
            for (var other = newest; other is not null; other = other.Earlier)
            {
                if (other.Rank == winner.Rank && !other.SameAs(winner) && _reported.Add(other.At))
                {
                    diagnostics.Add(PlanCodes.Conflict, other.At,
                        $"{profile.Settings[winner.Setting].Path} is {profile.Format(other.Planned)} here but {profile.Format(winner.Planned)} at {winner.At.Place}, and neither line outweighs the other",
                        "keep one, or say it for the single strip");
                }
            }
        }

        return winners;
    }

    /// <summary>
    /// Places whose every statement changes nothing: it is outweighed, or the same follows without it. Of two lines that say the same the
    /// lighter one counts as needed.
    /// </summary>
    /// <param name="least">Lightest weight of lines to look at.</param>
    /// <param name="matters">Settings of which every line matters even where it repeats another, or null.</param>
    public IEnumerable<(Origin At, Expectation Example)> FindRedundant(int least = 0, Func<int, bool>? matters = null)
    {
        var ladder = new List<Expectation>();
        foreach (var newest in _newest)
        {
            if (newest is null)
                continue;
            // What nobody outdoes matters; so does what nobody says: closed worlds and built-in expectations stand at a line that says other things.
            if (newest.Earlier is null)
            {
                newest.Statement.Matters = true;
                continue;
            }

            FillLadder(ladder, newest);
            if (ladder[0].Rank < least)
                continue;
            var heavier = ladder[0];
            var repeats = matters?.Invoke(newest.Setting) == true;
            var next = ladder.Find(other => other.At != heavier.At);
            foreach (var said in ladder)
            {
                said.Statement.Matters |= repeats || said.Rank == Ranks.ShowDefault
                    || (ReferenceEquals(said, heavier) ? next is null || !next.SameAs(said) : ReferenceEquals(said, next) && next.SameAs(heavier));
                said.Statement.Example ??= said;
            }
        }

        return _statements.Where(statement => statement.Rank >= least).GroupBy(statement => statement.At, PlaceComparer.Instance)
            .Where(line => line.All(statement => !statement.Matters) && line.Any(statement => statement.Example is not null))
            .Select(line => (line.Key, line.First(statement => statement.Example is not null).Example!));
    }

    /// <summary>How many places say something of a weight or more.</summary>
    public int CountFrom(int least) => _statements.Where(statement => statement.Rank >= least).Select(statement => statement.At).Distinct(PlaceComparer.Instance).Count();

    /// <summary>Everything that was said of a setting, heaviest first; of equals the one that was said first.</summary>
    public IReadOnlyList<Expectation> LadderOf(int setting)
    {
        var ladder = new List<Expectation>();
        if (_newest[setting] is { } newest)
            FillLadder(ladder, newest);
        return ladder;
    }

    // Heaviest first; of equals the one that was said first.
    private static void FillLadder(List<Expectation> ladder, Expectation newest)
    {
        const int Few = 32;
        ladder.Clear();
        for (var statement = newest; statement is not null && ladder.Count <= Few; statement = statement.Earlier)
            ladder.Add(statement);
        if (ladder.Count > Few)
        {
            for (var statement = ladder[^1].Earlier; statement is not null; statement = statement.Earlier)
                ladder.Add(statement);
            ladder.Reverse();
            var sorted = ladder.OrderByDescending(statement => statement.Rank).ToList();
            ladder.Clear();
            ladder.AddRange(sorted);
            return;
        }

        ladder.Clear();
        for (var statement = newest; statement is not null; statement = statement.Earlier)
        {
            var at = 0;
            while (at < ladder.Count && ladder[at].Rank > statement.Rank)
                at++;
            ladder.Insert(at, statement);
        }
    }

    /// <summary>The id of a path that a line names; an error when the profile does not see it.</summary>
    /// <param name="path">The path.</param>
    /// <param name="at">The line.</param>
    /// <param name="written">How the line writes it, perhaps with ranges; null when the path follows from something else.</param>
    public int Find(string path, Origin at, string? written = null)
    {
        var id = profile.Find(path);
        if (id >= 0 || !_reported.Add(at))
            return id;
        var near = written is not null && _suggestions++ < MostSuggestions ? NearestPath.Among(path, profile.Settings.Select(setting => setting.Path), written, diagnostics) : null;
        diagnostics.Add(PlanCodes.UnseenSetting, at, $"the profile of {profile.Desk} does not map '{path}', so it could never be verified",
            near is null ? "map it in the profile, or leave it out of the plan" : $"did you mean '{near}'?", near);
        return id;
    }

    private Statement? Read(Setting setting, ScalarNode value, string text, int rank)
    {
        var (valueText, inline) = SplitTolerance(text, setting.Codec);
        if (!setting.Codec.TryParse(valueText, out var planned, out var problem))
        {
            Report(DocumentCodes.BadValue, value.At, $"{setting.Path}: {problem}", null, NearestWord.Among(valueText, setting.Codec.Words, diagnostics));
            return null;
        }

        if (setting.Codec is TextCodec cutter && cutter.Cut(text) != text)
            Report(PlanCodes.NameCut, value.At, $"'{text}' is longer than this desk keeps; it is compared as '{cutter.Cut(text)}'", null);
        return setting.Codec is ScaleCodec scale
            ? ReadScale(setting, scale, planned, valueText, inline, value.At, rank)
            : new Statement(planned, planned, planned, rank, value.At);
    }

    private Statement? ReadScale(Setting setting, ScaleCodec scale, SettingValue planned, string text, string? inline, Origin at, int rank)
    {
        _ = ValueText.TryParseNumber(text, planned.Unit, out var wanted);
        var tolerance = tolerances.For(setting);
        if (inline is not null && (!ValueText.TryParseNumber(inline, planned.Unit, out tolerance) || tolerance < 0))
        {
            Report(DocumentCodes.BadValue, at, $"'{inline}' is not a tolerance", "write it like -10 dB within 1 dB");
            return null;
        }

        var step = scale.StepAround(wanted);
        if (inline is not null && tolerance > 0 && tolerance < step - Slack)
            Report(PlanCodes.ToleranceTooSmall, at, $"{setting.Path}: the desk moves in steps of {step:0.###} there, so the next position is already outside {inline}", "allow at least one step");
        if (double.IsFinite(wanted) && Math.Abs(planned.Number - wanted) > Math.Max(0.05, tolerance))
            Report(PlanCodes.OffGrid, at, $"{setting.Path}: this desk has no {text}; the nearest is {profile.Format(planned)}", null);
        var (low, high) = scale.Around(double.IsFinite(wanted) && scale.Steps > 0 && tolerance == 0 ? planned.Number : wanted, tolerance);
        return new Statement(planned, low, high, rank, at) { Inner = InnerBand.Of(scale, wanted, tolerance, low, high) };
    }

    private static (string Value, string? Tolerance) SplitTolerance(string text, Codec codec)
    {
        const string Word = " within ";
        var at = codec is ScaleCodec ? text.IndexOf(Word, StringComparison.Ordinal) : -1;
        return at < 0 ? (text, null) : (text[..at], text[(at + Word.Length)..]);
    }

    private void Add(int id, Statement statement)
    {
        Limit.Spend(1, statement.At);
        _newest[id] = new Expectation(id, statement, _newest[id]);
    }

    // One line covers many settings: its fault is told once.
    private void Report(DiagnosticCode code, Origin at, string message, string? advice, string? suggestion = null)
    {
        if (_reported.Add(at))
            diagnostics.Add(code, at, message, advice, suggestion);
    }

    // All statements come from one plan: hashing its file name thousands of times would be waste.
    private sealed class PlaceComparer : IEqualityComparer<Origin>
    {
        public static PlaceComparer Instance { get; } = new();

        public bool Equals(Origin x, Origin y) => x.Place == y.Place && x.File == y.File;

        public int GetHashCode(Origin obj) => (obj.Place.Line << 12) ^ obj.Place.Column;
    }

    private sealed class SaidComparer : IEqualityComparer<(ScalarNode Value, SettingKind Kind, int Rank)>
    {
        public static SaidComparer Instance { get; } = new();

        public bool Equals((ScalarNode Value, SettingKind Kind, int Rank) x, (ScalarNode Value, SettingKind Kind, int Rank) y) =>
            ReferenceEquals(x.Value, y.Value) && ReferenceEquals(x.Kind, y.Kind) && x.Rank == y.Rank;

        public int GetHashCode((ScalarNode Value, SettingKind Kind, int Rank) obj) =>
            (obj.Value.At.Place.Line << 12) ^ obj.Value.At.Place.Column ^ (RuntimeHelpers.GetHashCode(obj.Kind) << 4) ^ obj.Rank;
    }
}
