namespace StateWatch.Core.Routing;

/// <summary>What a node of the signal flow is.</summary>
public enum NodeKind : byte
{
    /// <summary>A strip, or the left or right leg of a stereo one.</summary>
    Strip,

    /// <summary>A talk circuit's microphone.</summary>
    Talk,

    /// <summary>An output socket.</summary>
    Output,

    /// <summary>The end of a bus that the plan gives no output.</summary>
    End,
}

/// <summary>A node of the signal flow.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Strip">Strip id; -1 for a talk circuit.</param>
/// <param name="Leg">0 for mono, 1 left, 2 right; the circuit's number for a talk circuit.</param>
public readonly record struct RoutingNode(NodeKind Kind, int Strip, int Leg);

/// <summary>What an edge of the signal flow is.</summary>
public enum EdgeKind : byte
{
    /// <summary>An assign: after fader and pan, on or off.</summary>
    Assign,

    /// <summary>A send: with level and tap.</summary>
    Send,

    /// <summary>From an effect's send bus to the strip it comes back on.</summary>
    Effect,

    /// <summary>From a talk circuit into a bus.</summary>
    Talk,

    /// <summary>What an output takes its signal from.</summary>
    Output,

    /// <summary>A strip's direct out into an output.</summary>
    DirectOut,

    /// <summary>A bus or output point that an input takes its signal from.</summary>
    Loopback,

    /// <summary>From a bus to where the plan leaves it.</summary>
    End,
}

/// <summary>An edge of the signal flow with the settings that decide its gain; -1 for a setting the profile does not see.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="From">The node it leaves; -1 when a patch decides.</param>
/// <param name="To">The node it enters.</param>
/// <param name="On">Its switch.</param>
/// <param name="Level">Its level.</param>
/// <param name="Tap">Where it is taken from.</param>
/// <param name="Pan">The pan that shares it between left and right: the send's own, or the strip's.</param>
/// <param name="PanFollow">Whether the send follows the strip's pan.</param>
/// <param name="Side">0 mono, 1 into a left leg or the odd bus of a pair, 2 into a right leg or the even bus.</param>
/// <param name="Link">The link that makes a mono target one side of a pair; -1 when it always is, or never.</param>
public readonly record struct RoutingEdge(EdgeKind Kind, int From, int To, int On, int Level, int Tap, int Pan, int PanFollow, int Side, int Link);
