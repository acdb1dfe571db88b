using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Looks at a plan that compiles for what is allowed but probably not meant.</summary>
internal sealed class PlanAudit(ShowPlan plan, StatementTable table, DiagnosticBag diagnostics)
{
    public void Run()
    {
        AuditSockets();
        AuditNames();
        AuditRoles();
        AuditStrips();
        new LineAudit(plan, diagnostics).Run();
        ScheduleAudit.Run(plan.Document, diagnostics);
        foreach (var feed in plan.Feeds)
        {
            if (feed.Outputs.Count == 0 && feed.Purpose is not (Purpose.Parallel or Purpose.Group or Purpose.Effects))
                diagnostics.Add(PlanCodes.FeedWithoutOutput, feed.At, $"feed '{feed.Key}' has no output", "add out: and a bank with numbers, such as out: stage 5");
        }

        foreach (var (at, example) in table.FindRedundant())
        {
            if (at.File == plan.Document.File)
                diagnostics.Add(PlanCodes.Redundant, at, $"this changes nothing: {plan.Profile.Settings[example.Setting].Path} already follows from other lines", "remove it");
        }
    }

    private void AuditSockets()
    {
        var owners = new Dictionary<string, PlannedStrip>(StringComparer.Ordinal);
        foreach (var strip in plan.Strips)
        {
            if (strip.Socket is not null && !owners.TryAdd(strip.Socket, strip))
                diagnostics.Add(PlanCodes.SharedSocket, strip.At, $"{strip.Name} and {owners[strip.Socket].Name} are both planned on {strip.Socket}", "if one microphone feeds two channels on purpose, ignore this");
        }
    }

    private void AuditNames()
    {
        var seen = new Dictionary<SettingValue, PlannedStrip>();
        foreach (var strip in plan.Strips)
        {
            if (plan.For(plan.Profile.Find($"{strip.Strip.Path}/name")) is { } name && !seen.TryAdd(name.Planned, strip) && seen[name.Planned].Name != strip.Name)
                diagnostics.Add(PlanCodes.NameCollision, strip.At, $"'{strip.Name}' and '{seen[name.Planned].Name}' both read '{plan.Profile.Format(name.Planned)}' on this desk", "shorten them so that they differ");
        }
    }

    private void AuditRoles()
    {
        var used = plan.Strips.Select(strip => strip.Role).ToHashSet(StringComparer.Ordinal);
        foreach (var role in plan.Document.Roles)
        {
            if (used.Contains(role.Key.Text))
                continue;
            var cue = plan.Document.Cues.FirstOrDefault(line => line.Open.Concat(line.Closed).Any(name => name.Text == role.Key.Text));
            diagnostics.Add(PlanCodes.UnusedRole, role.Key.At, $"no input has the role '{role.Key.Text}'",
                cue is null ? "remove it, or give it to an input" : $"give it to an input, or remove it here and from cue '{cue.Key.Text}'");
        }
    }

    private void AuditStrips()
    {
        var busFeeds = plan.Feeds.SelectMany(feed => feed.Ends.Select(bus => (bus, feed))).ToDictionary(item => item.bus, item => item.feed, StringComparer.Ordinal);
        var goesTo = new Dictionary<string, List<Feed>>(StringComparer.Ordinal);
        var inDca = new HashSet<string>(StringComparer.Ordinal);
        foreach (var expectation in plan.Expectations)
        {
            var setting = plan.Profile.Settings[expectation.Setting];
            var strip = plan.Profile.Strips[setting.Strip].Path;
            if (setting.Kind.Suffix == "dca/#" && expectation.Planned.IsOn)
                inDca.Add(strip);
            var bus = EdgePaths.PlannedEnd(plan, expectation);
            if (bus is null || !busFeeds.TryGetValue(bus, out var feed))
                continue;
            if (!goesTo.TryGetValue(strip, out var feeds))
                goesTo.Add(strip, feeds = []);
            feeds.Add(feed);
        }

        foreach (var strip in plan.Strips)
        {
            var feeds = goesTo.GetValueOrDefault(strip.Strip.Path) ?? [];
            if (strip.Strip.Kind == "input" && feeds.Count == 0)
                diagnostics.Add(PlanCodes.CarriedNowhere, strip.At, $"{strip.Name} goes to no feed and no group", "add to:, here or in its role");
            if (strip.OpenMic && !inDca.Contains(strip.Strip.Path))
                diagnostics.Add(PlanCodes.OpenMicWithoutDca, strip.At, $"{strip.Name} is an open microphone, but no DCA moves it", "add dca:, here or in its role");
            if (strip.OpenMic && feeds.Any(feed => feed.Purpose == Purpose.Subs))
                diagnostics.Add(PlanCodes.OpenMicInSubs, strip.At, $"{strip.Name} is an open microphone, but the plan sends it to the low-frequency feed", "boom and feedback start there; leave it out unless you are sure");
            if (strip.Privacy != Privacy.None && feeds.FirstOrDefault(feed => feed.Purpose.IsPublic()) is { } open)
                diagnostics.Add(PlanCodes.PrivateMadePublic, strip.At, $"{strip.Name} is private, but the plan sends it to '{open.Key}', which the public hears", "leave it out of that feed");
        }
    }
}
