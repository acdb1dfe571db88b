using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Profiles;

/// <summary>The keys that say how a desk is followed after it was read once.</summary>
public static class FollowKeys
{
    private static readonly ListShape Patterns = new(new TextShape(@"^(all|[a-z*][a-z0-9*-]*(/[a-z0-9*-]+)+)$"), single: true);

    /// <summary>What keeps a desk sending changes.</summary>
    public static KeyTable KeepAlive { get; } = new("keep-alive", "A question that makes the desk send changes by itself for a while. It is a bare question like every other; one that the desk could take as a command is refused.",
        new KeyInfo("ask", new TextShape("^/"), "/bench/stay", "The address that is asked, bare.") { Required = true },
        new KeyInfo("every", new QuantityShape(Unit.Millisecond, 100, 600_000), "3 s", "How often it is asked; at most half of what it lasts, so that one may get lost.") { Default = "3 s" },
        new KeyInfo("lasts", new QuantityShape(Unit.Millisecond, 200, 3_600_000), "10 s", "How long the desk goes on after one. Without an answer for so long changes may have been missed: everything is read again.") { Default = "10 s" },
        new KeyInfo("answered", FlagShape.One, "true", "The desk answers it at the same address. false: only the link's silence and the round tell that it has forgotten us.") { Default = "true" });

    /// <summary>What is asked more often.</summary>
    public static KeyTable Often { get; } = new("asked often", "Settings that are asked in a shorter round of their own, where a change must be seen soon.",
        new KeyInfo("settings", Patterns, "[\"desk/*\", \"socket/*/phantom\"]", "Setting paths; * stands for one part between slashes, or a part of it, and at the end for all that follows.") { Required = true },
        new KeyInfo("every", new QuantityShape(Unit.Millisecond, 100, 60_000), "500 ms", "How long a round of them takes; the pace of the link may make it longer.") { Required = true });

    /// <summary>How a desk is followed.</summary>
    public static KeyTable Follow { get; } = new("following", "How a desk is followed after it was read once. Only a watch uses it.",
        new KeyInfo("keep-alive", new TableShape(KeepAlive), "{ ask: /bench/stay, every: 3 s, lasts: 10 s }", "What makes the desk send changes by itself. Left out: it sends none, and everything is asked in rounds."),
        new KeyInfo("lost-after", new QuantityShape(Unit.Millisecond, 500, 60_000), "3 s", "How long nothing may be heard before the link counts as lost. The desk is asked often enough to tell.") { Default = "3 s" },
        new KeyInfo("round", new QuantityShape(Unit.Millisecond, 500, 3_600_000), "30 s", "How long it takes to ask everything again. It finds what a lost message would hide. The pace of the link may make it longer. Left out: 30 s with a keep-alive, otherwise 1 s."),
        new KeyInfo("often", new TableShape(Often), "{ settings: \"desk/*\", every: 500 ms }", "Settings that are asked in a shorter round."));

    /// <summary>After what must be read again.</summary>
    public static KeyTable Invalidate { get; } = new("read again", "A message of the desk after which it must be read again, such as a recall that does not send what it changes.",
        new KeyInfo("on", new TextShape("^/"), "/bench/turned", "Its address, as an OSC 1.0 pattern. The address of a setting counts only when it brings another value.") { Required = true },
        new KeyInfo("reread", Patterns, "[\"input/*\", \"desk/scene\"]", "What to read again: all, or setting paths; * stands for one part between slashes, or a part of it, and at the end for all that follows.") { Default = "all" },
        new KeyInfo("settle", new QuantityShape(Unit.Millisecond, 0, 30_000), "500 ms", "How long the desk needs after the last such message.") { Default = "500 ms" });
}
