using StateWatch.Core.Auditing;

namespace StateWatch.Core.Watching;

/// <summary>Takes what goes wrong in the watch itself, where it becomes a finding like any other; from any thread.</summary>
public interface ISelfReport
{
    /// <summary>Something is wrong, still or anew.</summary>
    /// <param name="id"><c>rule:subject</c>, such as <c>sink-not-delivering:light</c>; the same for the same fault.</param>
    /// <param name="severity">How much it matters.</param>
    /// <param name="words">What people are told.</param>
    void Report(string id, Severity severity, AlertWords words);

    /// <summary>It is no longer wrong.</summary>
    void Clear(string id);
}
