using StateWatch.Core.Acoustics;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>
/// Finds which microphones and loudspeakers couplings stand for, and which line counts for each pair: a measured one before an estimate, then the one whose name stands for
/// fewer inputs, then the one that names fewer loudspeakers.
/// </summary>
internal sealed class CouplingCompiler(PlanDocument document, IReadOnlyList<PlannedStrip> strips, IReadOnlyList<Feed> feeds, PlanNames names, WorkLimit limit, DiagnosticBag diagnostics)
{
    private readonly Dictionary<(int Microphone, int Loudspeaker), Claim> _measured = [];
    private readonly Dictionary<(int Microphone, int Loudspeaker), Claim> _estimates = [];
    private readonly HashSet<(Origin, Origin)> _twice = [];
    private readonly HashSet<Origin> _lacking = [];

    /// <summary>Whether lines are missing because of faults that are told elsewhere.</summary>
    public required bool IsIncomplete { get; init; }

    public IReadOnlyList<Loudspeaker> Loudspeakers { get; } = Loudspeaker.Of(feeds);

    public IReadOnlyList<PlannedStrip> Microphones { get; private set; } = [];

    public IReadOnlyList<PlannedCoupling> Couplings { get; private set; } = [];

    public void Compile()
    {
        var inputs = strips.Where(strip => strip.Strip.Kind == "input").ToList();
        if (document.Couplings.Count > 0)
            Claims(inputs);
        var named = _measured.Keys.Concat(_estimates.Keys).Select(pair => pair.Microphone).ToHashSet();
        Microphones = [.. inputs.Where((strip, i) => strip.OpenMic || named.Contains(i))];
        Couplings = [.. _measured.Keys.Union(_estimates.Keys).Order().Select(pair => Planned(inputs[pair.Microphone], pair)).OfType<PlannedCoupling>()];
    }

    private void Claims(List<PlannedStrip> inputs)
    {
        var known = new StripNames(document, inputs, names, diagnostics) { InputsOnly = true, IsIncomplete = IsIncomplete };
        var indexes = new Dictionary<int, int>(inputs.Count);
        for (var i = 0; i < inputs.Count; i++)
            indexes.Add(inputs[i].Strip.Id, i);
        foreach (var line in document.Couplings)
        {
            var (microphones, loudspeakers) = (known.Strips(line.Mic), Find(line.Feed));
            limit.Spend((long)microphones.Count * loudspeakers.Count, line.Mic.At);
            foreach (var microphone in microphones)
            {
                foreach (var loudspeaker in loudspeakers)
                    Offer(line.Measured is null ? _estimates : _measured, (indexes[microphone.Strip.Id], loudspeaker), new Claim(line, microphones.Count, loudspeakers.Count));
            }
        }
    }

    private void Offer(Dictionary<(int, int), Claim> claims, (int, int) pair, Claim claim)
    {
        if (!claims.TryGetValue(pair, out var other) || claim.Width.CompareTo(other.Width) < 0)
            claims[pair] = claim;
        else if (claim.Width == other.Width && _twice.Add((claim.Line.At, other.Line.At)))
            diagnostics.Add(PlanCodes.CouplingTwice, claim.Line.At, $"'{claim.Line.Mic.Text}' at '{claim.Line.Feed.Text}' is also told at {other.Line.At.Place} ('{other.Line.Mic.Text}' at '{other.Line.Feed.Text}'), and neither is narrower", "keep one of the two lines");
    }

    private PlannedCoupling? Planned(PlannedStrip microphone, (int Microphone, int Loudspeaker) pair)
    {
        var estimate = _estimates.TryGetValue(pair, out var claim) ? Estimated(microphone, pair.Loudspeaker, claim.Line) : null;
        if (!_measured.TryGetValue(pair, out claim))
            return estimate;
        var measured = claim.Line.Measured!;
        return new PlannedCoupling(microphone, pair.Loudspeaker, measured.Loss, true, measured.Day, measured.By, measured.Setup, null, claim.Line.At) { Room = measured.Room, Estimate = estimate };
    }

    private PlannedCoupling? Estimated(PlannedStrip microphone, int loudspeaker, CouplingLine line)
    {
        var feed = feeds[Loudspeakers[loudspeaker].Feed];
        if (feed.Loudspeaker is null)
            Lacks(line.Feed, $"feed '{feed.Key}' ({feed.At.Place}) does not say what loudspeaker it has, so nothing can be estimated", $"add loudspeaker: {StripTables.Feed["loudspeaker"].Example} there, with your figures");
        if (microphone.Microphone is null)
            Lacks(line.Mic, $"neither {microphone.Name} ({microphone.At.Place}) nor its role says what microphone it is, so nothing can be estimated", $"add microphone: {StripTables.Role["microphone"].Example} to one of them, with your figures");
        if (feed.Loudspeaker is null || microphone.Microphone is null)
            return null;
        var geometry = line.Geometry!;
        var loss = CouplingEstimate.Loss(feed.Loudspeaker.Chain, microphone.Microphone.Chain, geometry.Distance, geometry.Angle, feed.Purpose == Purpose.Subs);
        return new PlannedCoupling(microphone, loudspeaker, loss, false, null, null, null, geometry, line.At);
    }

    // What a line lacks for many pairs is told once; and not at all where the figures may stand in a line that could not be read.
    private void Lacks(ScalarNode name, string message, string advice)
    {
        if (!IsIncomplete && _lacking.Add(name.At))
            diagnostics.Add(PlanCodes.EstimateLacks, name.At, message, advice);
    }

    private List<int> Find(ScalarNode name)
    {
        var found = new List<int>();
        var ends = names.Ends(name, out var feed);
        if (feed is null)
            return found;
        if (!feed.Purpose.IsLoudspeaker())
        {
            diagnostics.Add(PlanCodes.NoLoudspeaker, name.At, feed.Purpose == Purpose.InEars ? $"'{name.Text}' is for in-ears, and in-ears are no loudspeakers" : $"the purpose of '{feed.Key}' is {feed.Purpose.Word()}, which is no loudspeaker",
                "name a feed whose purpose is room, subs, front-fill, monitor or overflow");
            return found;
        }

        if (feed.Stereo && name.Text != feed.Key)
        {
            diagnostics.Add(DocumentCodes.BadValue, name.At, $"feed '{feed.Key}' is stereo, so both of its sides are one loudspeaker here", "name the feed alone", feed.Key);
            return found;
        }

        for (var i = 0; i < Loudspeakers.Count; i++)
        {
            var (index, position, _) = Loudspeakers[i];
            if (feeds[index].Key == feed.Key && (position == 0 || ends.Contains(feed.Buses[position - 1])))
                found.Add(i);
        }

        return ends.Count == 0 && name.Text != feed.Key ? [] : found;
    }

    // One line's word on a pair, and how much else it speaks of.
    private readonly record struct Claim(CouplingLine Line, int Inputs, int Loudspeakers)
    {
        public (int, int) Width => (Inputs, Loudspeakers);
    }
}
