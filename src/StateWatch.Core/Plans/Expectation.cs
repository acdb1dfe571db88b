using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>What one plan line says: the values it allows. Shared by all settings that it says the same of.</summary>
internal sealed class Statement(SettingValue planned, SettingValue low, SettingValue high, int rank, Origin at)
{
    /// <summary>The value as planned, on the desk's grid.</summary>
    public SettingValue Planned { get; } = planned;

    /// <summary>Lowest allowed value.</summary>
    public SettingValue Low { get; } = low;

    /// <summary>Highest allowed value; equal to the lowest when only one is allowed.</summary>
    public SettingValue High { get; } = high;

    /// <summary>What lies well inside, where a tolerance says how far values may lie.</summary>
    public InnerBand? Inner { get; init; }

    /// <summary>Weight of the line.</summary>
    public int Rank { get; } = rank;

    /// <summary>The line.</summary>
    public Origin At { get; } = at;

    /// <summary>Whether taking the line away would change anything; found by the audit of the plan.</summary>
    public bool Matters { get; set; }

    /// <summary>A setting that it says this of, for messages; found by the audit of the plan.</summary>
    public Expectation? Example { get; set; }
}

/// <summary>One setting with the values the plan allows, and the plan line that says so.</summary>
public sealed class Expectation
{
    internal Expectation(int setting, Statement statement, Expectation? earlier)
    {
        Setting = setting;
        Statement = statement;
        Earlier = earlier;
    }

    /// <summary>Setting id.</summary>
    public int Setting { get; }

    /// <summary>The value as planned, on the desk's grid.</summary>
    public SettingValue Planned => Statement.Planned;

    /// <summary>Lowest allowed value; equal to <see cref="High"/> when only one is allowed.</summary>
    public SettingValue Low => Statement.Low;

    /// <summary>Highest allowed value.</summary>
    public SettingValue High => Statement.High;

    /// <summary>Weight of the winning line.</summary>
    public int Rank => Statement.Rank;

    /// <summary>The winning line.</summary>
    public Origin At => Statement.At;

    /// <summary>What the line says.</summary>
    internal Statement Statement { get; }

    /// <summary>What an earlier line said of the same setting.</summary>
    internal Expectation? Earlier { get; }

    /// <summary>Whether a live value is allowed. Levels and numbers on the desk's grid are compared by step.</summary>
    public bool Allows(SettingValue live)
    {
        if (live.Kind != Low.Kind)
            return false;
        if (live.Kind is not (ValueKind.Level or ValueKind.Number))
            return live == Low;
        if (Low.Step >= 0 && live.Step >= 0)
            return live.Step >= Low.Step && live.Step <= High.Step;
        return live.Number >= Low.Number && live.Number <= High.Number;
    }

    /// <summary>Whether an allowed value lies well inside the tolerance: only then is a drift over (80 % of it, at least one step of the desk narrower).</summary>
    public bool IsWellInside(SettingValue live) => Statement.Inner?.Holds(live) ?? true;

    /// <summary>How far a value that is not allowed lies away: how many tolerances beyond the first, from zero; 0 where nothing measures that.</summary>
    public int BandOf(SettingValue live) => Statement.Inner?.BandOf(live) ?? 0;

    /// <summary>Whether two expectations allow the same values.</summary>
    public bool SameAs(Expectation other) => ReferenceEquals(Statement, other.Statement) || (Low == other.Low && High == other.High);
}

/// <summary>Weights of plan lines, low to high; a narrower range outweighs a wider one of the same kind.</summary>
public static class Ranks
{
    /// <summary>What is off because nobody listed it, and what every show wants.</summary>
    public const int ShowDefault = 0;

    /// <summary>A feed's line.</summary>
    public const int Feed = 10_000;

    /// <summary>A role's line.</summary>
    public const int Role = 20_000;

    /// <summary>A role's <c>to</c>.</summary>
    public const int RoleFeed = 30_000;

    /// <summary>A strip's line.</summary>
    public const int Strip = 40_000;

    /// <summary>A strip's <c>to</c>.</summary>
    public const int StripFeed = 50_000;

    /// <summary>A line under <c>settings</c>.</summary>
    public const int Setting = 60_000;

    /// <summary>A line under a phase's <c>settings</c>.</summary>
    public const int Phase = 70_000;

    /// <summary>A line under a cue's <c>inputs</c>.</summary>
    public const int Cue = 80_000;

    /// <summary>A line under a cue's <c>settings</c>.</summary>
    public const int CueSetting = 90_000;

    /// <summary>A name under a cue's <c>open</c>.</summary>
    public const int CueOpen = 100_000;

    /// <summary>What a weight says of its line, in words.</summary>
    public static string Words(int rank)
    {
        var width = WidthOf(rank);
        return rank switch
        {
            < Feed => "no line lists it, so it is off or none, or as every show wants it",
            < Role => "a feed's line",
            < RoleFeed => "a role's line",
            < Strip => "where a role goes",
            < StripFeed => width > 1 ? $"a line for {width} strips" : "a line for this strip",
            < Setting => width > 1 ? $"where {width} strips go" : "where this strip goes",
            < Phase => width > 1 ? $"a line under settings, for {width} paths" : "a line under settings",
            < Cue => "a line under the phase's settings, or a parked input",
            < CueSetting => width > 1 ? $"a cue's line for {width} inputs" : "a cue's line for this input",
            < CueOpen => width > 1 ? $"a line under the cue's settings, for {width} paths" : "a line under the cue's settings",
            _ => width > 1 ? $"open at the cue, by a name for {width} strips" : "open at the cue",
        };
    }

    /// <summary>How many strips or paths a line of a weight covers, where its kind is weighed by that.</summary>
    public static int WidthOf(int rank) => 4_999 - rank % 10_000 / 2;

    /// <summary>The weight of a line that covers a number of strips.</summary>
    /// <param name="basis">Weight of its kind.</param>
    /// <param name="width">How many strips it covers.</param>
    public static int Narrowed(int basis, int width) => basis + 2 * (4_999 - Math.Min(width, 4_999));
}
