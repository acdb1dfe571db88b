namespace StateWatch.Core.Routing;

/// <summary>The settings of one strip that decide how loud it is; -1 for a setting the profile does not see.</summary>
/// <param name="Strip">Strip id.</param>
/// <param name="Nodes">Its nodes: one, or left and right.</param>
public sealed record StripStages(int Strip, int[] Nodes)
{
    /// <summary>On (not muted).</summary>
    public int On { get; set; } = -1;

    /// <summary>Fader.</summary>
    public int Fader { get; set; } = -1;

    /// <summary>Digital trim.</summary>
    public int Trim { get; set; } = -1;

    /// <summary>Polarity.</summary>
    public int Polarity { get; set; } = -1;

    /// <summary>Pan.</summary>
    public int Pan { get; set; } = -1;

    /// <summary>Delay.</summary>
    public int Delay { get; set; } = -1;

    /// <summary>Where an input takes its signal from.</summary>
    public int Source { get; set; } = -1;

    /// <summary>The edge into an input that takes its signal from a bus; -1 for strips without a source.</summary>
    public int Loopback { get; set; } = -1;

    /// <summary>Where an input's direct out goes.</summary>
    public int DirectOut { get; set; } = -1;

    /// <summary>Where an input's direct out is taken from.</summary>
    public int DirectOutTap { get; set; } = -1;

    /// <summary>Memberships: the membership setting, the group's switch and its fader.</summary>
    public (int Member, int On, int Fader)[] Dcas { get; set; } = [];

    /// <summary>Memberships: the membership setting and whether the group is active.</summary>
    public (int Member, int Active)[] MuteGroups { get; set; } = [];
}

/// <summary>The settings of one output socket that decide what leaves the desk there; -1 for a setting the profile does not see.</summary>
/// <param name="Strip">Strip id.</param>
/// <param name="Node">Its node.</param>
/// <param name="Source">What it takes its signal from.</param>
/// <param name="On">On (not muted).</param>
/// <param name="Polarity">Polarity.</param>
/// <param name="SourceEdge">The edge from its source.</param>
/// <param name="DirectEdge">The edge from a strip whose direct out goes here.</param>
public sealed record OutputStages(int Strip, int Node, int Source, int On, int Polarity, int SourceEdge, int DirectEdge);
