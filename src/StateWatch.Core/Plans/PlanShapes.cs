using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Shapes that several tables of a plan share.</summary>
public static class PlanShapes
{
    /// <summary>A set of numbers, such as <c>1-4, 7</c>, as a regular expression.</summary>
    internal const string NumbersPattern = @"\s*0*[1-9][0-9]{0,3}(-0*[1-9][0-9]{0,3})?(\s*,\s*0*[1-9][0-9]{0,3}(-0*[1-9][0-9]{0,3})?)*\s*";

    /// <summary>A set of numbers.</summary>
    public static TextShape Numbers { get; } = new($"^{NumbersPattern}$");

    /// <summary>Number of a DCA or mute group.</summary>
    public static WholeShape GroupNumber { get; } = new(1, 999);

    /// <summary>Number of an insert slot.</summary>
    public static WholeShape InsertSlot { get; } = new(1, 32);

    /// <summary>How many microphones may be open.</summary>
    public static WholeShape OpenMicrophones { get; } = new(1, 200);

    /// <summary>Channels of a unit.</summary>
    public static WholeShape Channels { get; } = new(1, 64);

    /// <summary>A name or a list of names.</summary>
    public static ListShape Names { get; } = new(TextShape.Any, single: true);
}
