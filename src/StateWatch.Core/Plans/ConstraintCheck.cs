using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>
/// Holds a plan to its own <c>never</c>, <c>only</c>, <c>must-carry</c> and <c>minus</c>, by every way the plan makes. A breach is an error
/// that names both lines.
/// </summary>
internal sealed class ConstraintCheck(ShowPlan plan, PlanNames names, DiagnosticBag diagnostics)
{
    // Most plans have few constraints or none: the ways are found when one asks.
    private readonly Lazy<PlannedRoutes> _routes = new(() => new PlannedRoutes(plan));
    private readonly Dictionary<string, Dictionary<string, (string Before, Expectation Edge)>> _reached = new(StringComparer.Ordinal);
    private readonly HashSet<Origin> _reported = [];
    private readonly List<ForbiddenPair> _forbidden = [];
    private readonly ILookup<string, PlannedStrip> _stripsOf = plan.Strips.ToLookup(strip => strip.Role, StringComparer.Ordinal);
    private readonly HashSet<string> _roles = plan.Document.Roles.Select(line => line.Key.Text).ToHashSet(StringComparer.Ordinal);

    /// <summary>Reports every breach that the plan itself makes.</summary>
    /// <returns>Which strips may not arrive at which feeds, for whoever looks at the live desk.</returns>
    public IReadOnlyList<ForbiddenPair> Run()
    {
        foreach (var line in plan.Document.Feeds)
        {
            if (plan.Feeds.FirstOrDefault(feed => feed.At == line.Key.At) is not { } feed)
                continue;
            CheckNever(feed, line.Constraints.Never);
            CheckOnly(feed, line.Constraints.Only);
            CheckMustCarry(feed, line.Constraints.MustCarry);
            CheckMinus(feed, line.Constraints.Minus);
        }

        foreach (var role in plan.Document.Roles)
        {
            foreach (var name in role.Never)
                CheckRoleNever(role, name);
            CheckRoleOnly(role);
        }

        return _forbidden;
    }

    private void CheckNever(Feed feed, IReadOnlyList<ScalarNode> roles)
    {
        foreach (var role in roles)
        {
            foreach (var strip in StripsOf(role))
                Forbid(strip, feed, role.At, $"never: {role.Text}");
        }
    }

    private void CheckOnly(Feed feed, IReadOnlyList<ScalarNode> roles)
    {
        if (roles.Count == 0)
            return;
        var allowed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var role in roles)
        {
            _ = StripsOf(role);
            allowed.Add(role.Text);
        }

        var rule = $"only: {string.Join(", ", roles.Take(20).Select(role => role.Text))}";
        foreach (var strip in plan.Strips)
        {
            if (strip.Strip.Kind == "input" && !allowed.Contains(strip.Role))
                Forbid(strip, feed, roles[0].At, rule);
        }
    }

    private void CheckMustCarry(Feed feed, IReadOnlyList<ScalarNode> roles)
    {
        foreach (var role in roles)
        {
            foreach (var strip in StripsOf(role))
            {
                if (feed.Ends.Any(end => Reached(strip).ContainsKey(end)) || !_reported.Add(role.At))
                    continue;
                diagnostics.Add(PlanCodes.ConstraintBroken, role.At,
                    $"'{feed.Key}' must carry {role.Text}, but {strip.Name} ({strip.At.Place}) reaches it by no way of this plan", "add it to the strip's or role's to:, or to the feed's from:");
            }
        }
    }

    private void CheckMinus(Feed feed, IReadOnlyList<ScalarNode> inputs)
    {
        if (inputs.Count == 0)
            return;
        var byName = plan.Strips.ToLookup(strip => strip.Name, StringComparer.Ordinal);
        foreach (var name in inputs)
        {
            if (byName[name.Text].FirstOrDefault() is { } strip)
                Forbid(strip, feed, name.At, $"minus: {name.Text}");
            else
                names.Unknown(name, "input", plan.Strips.Select(item => item.Name), "write the name of an input");
        }
    }

    private void CheckRoleNever(RoleLine role, ScalarNode name)
    {
        _ = names.Ends(name, out var feed);
        if (feed is null)
            return;
        foreach (var strip in _stripsOf[role.Key.Text])
            Forbid(strip, feed, name.At, $"never: {name.Text}");
    }

    private void CheckRoleOnly(RoleLine role)
    {
        var allowed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var name in role.Only)
            allowed.UnionWith(names.Ends(name, out _));
        if (role.Only.Count == 0)
            return;
        foreach (var strip in _stripsOf[role.Key.Text])
        {
            foreach (var feed in plan.Feeds.Where(feed => !feed.Ends.Any(allowed.Contains)))
                Forbid(strip, feed, role.Only[0].At, $"only: {string.Join(", ", role.Only.Take(20).Select(name => name.Text))}");
        }
    }

    private IEnumerable<PlannedStrip> StripsOf(ScalarNode role)
    {
        if (!_roles.Contains(role.Text))
            names.Unknown(role, "role", _roles, "define it under roles");
        return _stripsOf[role.Text];
    }

    private void Forbid(PlannedStrip strip, Feed feed, Origin at, string rule)
    {
        var reached = Reached(strip);
        if (feed.Ends.FirstOrDefault(reached.ContainsKey) is not { } bus)
        {
            _forbidden.Add(new ForbiddenPair(strip, feed, rule, at));
            return;
        }

        var way = new List<string>();
        var first = reached[bus].Edge;
        for (var step = bus; step != strip.Strip.Path; step = reached[step].Before)
        {
            way.Insert(0, step.Replace('/', ' '));
            first = reached[step].Edge;
        }

        if (_reported.Add(first.At))
            diagnostics.Add(PlanCodes.ConstraintBroken, first.At, $"{strip.Name} goes to {string.Join(", then ", way)}, but '{rule}' stands at {at.Place} (feed '{feed.Key}')", "change one of the two lines");
    }

    private Dictionary<string, (string Before, Expectation Edge)> Reached(PlannedStrip strip)
    {
        if (!_reached.TryGetValue(strip.Strip.Path, out var reached))
            _reached.Add(strip.Strip.Path, reached = _routes.Value.From(strip.Strip.Path));
        return reached;
    }
}
