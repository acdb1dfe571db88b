using StateWatch.Core.Desks;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Auditing;

/// <summary>
/// One (rule, subject): which settings it needs and whether they violate the rule. Made when the plan is compiled; pure, so that the
/// same state always gives the same verdict.
/// </summary>
/// <param name="rule">The rule.</param>
/// <param name="subject">Setting id of the subject.</param>
/// <param name="inputs">Setting ids it depends on; all must be fresh to tell.</param>
public abstract class RuleCheck(RuleInfo rule, int subject, int[] inputs)
{
    /// <summary>The rule.</summary>
    public RuleInfo Rule { get; } = rule;

    /// <summary>Setting id of the subject.</summary>
    public int Subject { get; } = subject;

    /// <summary>Setting ids the verdict depends on.</summary>
    public IReadOnlyList<int> Inputs { get; } = inputs;

    /// <summary>
    /// Numbers of the derived facts that the verdict, what it explains or its subject's name depends on besides <see cref="Inputs"/>, such as
    /// <c>facts.Flow.Circles.FactOf(setting)</c>. Whatever else is looked at must be an input, or a watch does not see it change.
    /// </summary>
    public virtual IReadOnlyList<int> Facts => [];

    /// <summary>Other settings whose drift a violation explains, besides the subject's.</summary>
    public virtual IReadOnlyList<int> Explains => [];

    /// <summary>Adds those that it explains in one state, where that depends on how it is violated. Called only when the rule is violated; allocates nothing.</summary>
    /// <param name="state">The state.</param>
    /// <param name="explained">Where they are added.</param>
    public virtual void AddExplained(DeskState state, List<int> explained)
    {
        var explains = Explains;
        for (var i = 0; i < explains.Count; i++)
            explained.Add(explains[i]);
    }

    /// <summary>
    /// Whether people do for a moment, in a show, what it finds in this state: a sweep sees one moment and cannot tell whether it lasts, so in
    /// the show phase it is no more than a notice. Called only when the rule is violated.
    /// </summary>
    public virtual bool MayBeMomentary(DeskState state) => false;

    /// <summary>Whether a watch tells it in full when it has lasted, where it may be a moment's doing. Not where people do it for a whole sermon, and mean it.</summary>
    public virtual bool CountsWhenItLasts => true;

    /// <summary>
    /// Whether it is passed over when an input is not fresh, instead of being told as undecided: it only says more exactly what another
    /// check tells, or looks at settings no plan line names, so that coverage already says all there is to say.
    /// </summary>
    public virtual bool PassesOverUnseen => false;

    /// <summary>What is planned, what is there, and the plan line, where the subject's own expectation does not say it; null otherwise.</summary>
    public virtual (string Planned, string Live, Origin At)? Shown => null;

    /// <summary>
    /// Whether it is not told when an earlier rule has told or explained its subject: always so for drifts, so that one fault is told once.
    /// A risk may choose it, when what it says is only the plainer form of another risk.
    /// </summary>
    public virtual bool YieldsToOthers => Rule.Kind == FindingKind.Drift;

    /// <summary>The setting that a finding shows, with what is planned and live of it, where that is not the subject. Called only when the rule is violated.</summary>
    public virtual int SettingIn(DeskState state) => Subject;

    /// <summary>Whether a violation explains the subject's own drift; not so where the subject only stands for a pair or a strip.</summary>
    public virtual bool ClaimsSubject => true;

    /// <summary>The most that it may be told as in this state, whatever the phase says. Called only when the rule is violated.</summary>
    public virtual Severity Most(DeskState state) => Severity.Urgent;

    /// <summary>
    /// What people call its subject where that is not one setting, such as <c>group/1>group/2</c> for a circle or <c>source>feed</c> for a
    /// pair: the part of the finding's id behind the colon. Null for the path of <see cref="Subject"/>, by which one fault is told once in
    /// either case. Asked whether or not the inputs are fresh.
    /// </summary>
    public virtual string? SubjectPath(DeskState state) => null;

    /// <summary>
    /// Where the state lies, seen from the edge of what is allowed: near it though kept, or how far beyond. Depends on what <see cref="IsViolated"/> depends on.
    /// Called only when every input is fresh; allocates nothing.
    /// </summary>
    /// <param name="state">The state.</param>
    /// <param name="isViolated">What <see cref="IsViolated"/> says of it.</param>
    public virtual EdgeDistance FromEdge(DeskState state, bool isViolated) => default;

    /// <summary>How long it must last before a watch tells it, where the plan says so; null for what its kind of setting needs.</summary>
    public virtual TimeSpan? OnDelay => null;

    /// <summary>How long it must be kept again before a watch clears it; null for what its kind of setting needs. What many levels add up to crosses its edge often.</summary>
    public virtual TimeSpan? OffDelay => null;

    /// <summary>Whether the rule is violated. Called only when every input is fresh; allocates nothing.</summary>
    public abstract bool IsViolated(DeskState state);

    /// <summary>The words for a violation.</summary>
    public abstract FindingWords Describe(AuditFacts facts, DeskState state);
}

/// <summary>What people are told about a violation.</summary>
/// <param name="What">What is wrong, one sentence with the strip's name.</param>
/// <param name="Why">What is heard or not heard because of it.</param>
/// <param name="Do">The one thing to do.</param>
/// <param name="Cause">Violations with the same cause are told together: a feed, a group, a strip.</param>
/// <param name="CauseName">The cause as people call it.</param>
public sealed record FindingWords(string What, string Why, string Do, string Cause, string CauseName)
{
    /// <summary>The same for a volunteer, to fit one line; the long words are used where a rule gives none.</summary>
    public ShortWords? Short { get; init; }

    /// <summary>Keys of the feeds it is heard in, one a line, where the setting's planned routes do not tell; null where they do.</summary>
    public string? HeardIn { get; init; }
}

/// <summary>
/// A violation in one line for a volunteer: <c>Click (input 39) goes to room (main 1): everybody hears the click. Switch it off.</c>
/// What needs the patch, gain or phantom power says whom to call instead.
/// </summary>
/// <param name="What">What is wrong, without a full stop.</param>
/// <param name="Heard">What is heard because of it: small first letter, no full stop.</param>
/// <param name="Fix">The one thing to do, without a full stop. Never unmute, raise or patch without "fader down first".</param>
/// <param name="FixAll">The same for several of one cause, or null when <paramref name="Fix"/> fits them too.</param>
public sealed record ShortWords(string What, string Heard, string Fix, string? FixAll = null);
