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
    private readonly List<Expectation>?[] _statements = new List<Expectation>?[profile.Settings.Count];
    private readonly HashSet<Origin> _reported = [];

    /// <summary>Says that a setting must have a value, spelled as in the plan.</summary>
    /// <param name="path">Setting path.</param>
    /// <param name="value">The value as written.</param>
    /// <param name="text">The value's text; the scalar's own, or a name made from it.</param>
    /// <param name="rank">Weight.</param>
    public void Say(string path, ScalarNode value, string text, int rank)
    {
        var id = Find(path, value.At);
        if (id < 0 || text == "any")
            return;
        var setting = profile.Settings[id];
        var (valueText, inline) = SplitTolerance(text, setting.Codec);
        if (!setting.Codec.TryParse(valueText, out var planned, out var problem))
        {
            Report(DocumentCodes.BadValue, value.At, $"{path}: {problem}", null, NearestWord.Among(valueText, setting.Codec.Words));
            return;
        }

        if (setting.Codec is TextCodec cutter && cutter.Cut(text) != text)
            Report(PlanCodes.NameCut, value.At, $"'{text}' is longer than this desk keeps; it is compared as '{cutter.Cut(text)}'", null);
        if (setting.Codec is ScaleCodec scale)
            SayScale(setting, scale, planned, valueText, inline, value.At, rank);
        else
            Add(new Expectation(id, planned, planned, planned, rank, value.At));
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
        var word = codec.Kind == ValueKind.Switch ? (on ? "on" : "off") : "none";
        if ((codec.Kind == ValueKind.Switch || !on) && codec.TryParse(word, out var value, out _))
            Add(new Expectation(id, value, value, value, rank, at));
    }

    /// <summary>The winning expectation of every setting, in order of id; conflicts are reported.</summary>
    public List<Expectation> Resolve()
    {
        var winners = new List<Expectation>();
        foreach (var statements in _statements)
        {
            if (statements is null)
                continue;
            var winner = statements[0];
            foreach (var statement in statements)
            {
                if (statement.Rank > winner.Rank)
                    winner = statement;
            }

            winners.Add(winner);
            foreach (var statement in statements)
            {
                if (statement.Rank == winner.Rank && !statement.SameAs(winner) && _reported.Add(statement.At))
                {
                    diagnostics.Add(PlanCodes.Conflict, statement.At,
                        $"{profile.Settings[winner.Setting].Path} is {profile.Format(statement.Planned)} here but {profile.Format(winner.Planned)} at {winner.At.Place}, and neither line outweighs the other",
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
    public IEnumerable<(Origin At, Expectation Example)> FindRedundant()
    {
        var effective = new Dictionary<Origin, bool>(PlaceComparer.Instance);
        var examples = new Dictionary<Origin, Expectation>(PlaceComparer.Instance);
        foreach (var statements in _statements)
        {
            if (statements is null)
                continue;
            statements.Sort((a, b) => b.Rank.CompareTo(a.Rank));
            var heavier = statements[0];
            var next = statements.FirstOrDefault(other => other.At != heavier.At);
            for (var i = 0; i < statements.Count; i++)
            {
                var statement = statements[i];
                var matters = i == 0 ? next is null || !next.SameAs(statement) : ReferenceEquals(statement, next) && next.SameAs(heavier);
                effective[statement.At] = effective.GetValueOrDefault(statement.At) || matters;
                examples.TryAdd(statement.At, statement);
            }
        }

        return effective.Where(pair => !pair.Value).Select(pair => (pair.Key, examples[pair.Key]));
    }

    /// <summary>The id of a path that a line names; an error when the profile does not see it.</summary>
    public int Find(string path, Origin at)
    {
        var id = profile.Find(path);
        if (id < 0)
            Report(PlanCodes.UnseenSetting, at, $"the profile of {profile.Desk} does not map '{path}', so it could never be verified",
                "map it in the profile, or leave it out of the plan");
        return id;
    }

    private void SayScale(Setting setting, ScaleCodec scale, SettingValue planned, string text, string? inline, Origin at, int rank)
    {
        _ = ValueText.TryParseNumber(text, planned.Unit, out var wanted);
        var tolerance = tolerances.For(setting);
        if (inline is not null && (!ValueText.TryParseNumber(inline, planned.Unit, out tolerance) || tolerance < 0))
        {
            Report(DocumentCodes.BadValue, at, $"'{inline}' is not a tolerance", "write it like -10 dB within 1 dB");
            return;
        }

        var step = scale.StepAround(wanted);
        if (inline is not null && tolerance > 0 && tolerance < step / 2)
            Report(PlanCodes.ToleranceTooSmall, at, $"{setting.Path}: the desk moves in steps of {step:0.###} there, so a tolerance of {inline} can never be told apart", "allow at least one step");
        if (double.IsFinite(wanted) && Math.Abs(planned.Number - wanted) > Math.Max(0.05, tolerance))
            Report(PlanCodes.OffGrid, at, $"{setting.Path}: this desk has no {text}; the nearest is {profile.Format(planned)}", null);
        var (low, high) = scale.Around(double.IsFinite(wanted) && scale.Steps > 0 && tolerance == 0 ? planned.Number : wanted, tolerance);
        Add(new Expectation(setting.Id, planned, low, high, rank, at));
    }

    private static (string Value, string? Tolerance) SplitTolerance(string text, Codec codec)
    {
        const string Word = " within ";
        var at = codec is ScaleCodec ? text.IndexOf(Word, StringComparison.Ordinal) : -1;
        return at < 0 ? (text, null) : (text[..at], text[(at + Word.Length)..]);
    }

    private void Add(Expectation statement) => (_statements[statement.Setting] ??= []).Add(statement);

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
}
