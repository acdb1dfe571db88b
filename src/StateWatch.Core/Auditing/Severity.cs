using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing;

/// <summary>How much a finding matters.</summary>
public enum Severity : byte
{
    /// <summary>Nobody would act on it.</summary>
    Silent,

    /// <summary>Good to know.</summary>
    Notice,

    /// <summary>To be put right when there is a moment.</summary>
    Warning,

    /// <summary>To be put right now.</summary>
    Urgent,
}

/// <summary>Severities by phase.</summary>
/// <param name="Build">While rigging.</param>
/// <param name="Soundcheck">In soundcheck.</param>
/// <param name="Doors">Before the show.</param>
/// <param name="Show">In the show.</param>
public readonly record struct SeverityByPhase(Severity Build, Severity Soundcheck, Severity Doors, Severity Show)
{
    /// <summary>The severity in a phase.</summary>
    public Severity In(Phase phase) => phase switch
    {
        Phase.Build => Build,
        Phase.Soundcheck => Soundcheck,
        Phase.Doors => Doors,
        _ => Show,
    };

    /// <summary>Reads four letters, build to show: U urgent, W warning, N notice, - silent.</summary>
    public static SeverityByPhase Of(string letters) =>
        new(Letter(letters[0]), Letter(letters[1]), Letter(letters[2]), Letter(letters[3]));

    private static Severity Letter(char letter) => letter switch
    {
        'U' => Severity.Urgent,
        'W' => Severity.Warning,
        'N' => Severity.Notice,
        _ => Severity.Silent,
    };
}

/// <summary>Severity words.</summary>
public static class Severities
{
    /// <summary>The word of a severity.</summary>
    public static string Word(this Severity severity) => severity switch
    {
        Severity.Urgent => "urgent",
        Severity.Warning => "warning",
        Severity.Notice => "notice",
        _ => "silent",
    };
}
