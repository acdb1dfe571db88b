using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Compiles talk circuits: a listed circuit goes where its line says and nowhere else.</summary>
internal sealed class TalkCompiler(DeskProfile profile, PlanNames names, StatementTable table, DiagnosticBag diagnostics)
{
    public void Compile(IReadOnlyList<StripLine> lines)
    {
        foreach (var line in lines)
        {
            foreach (var number in line.Numbers)
                CompileOne(line, number);
        }
    }

    private void CompileOne(StripLine line, int number)
    {
        table.Limit.Spend(100, line.Key.At);
        var lead = $"desk/talk/{number}/to/";
        var seen = false;
        foreach (var id in profile.FindStrip("desk") is { } desk ? profile.SettingsOf(desk.Id) : [])
        {
            var setting = profile.Settings[id];
            if (!setting.Path.StartsWith(lead, StringComparison.Ordinal))
                continue;
            table.SayById(setting.Id, on: false, line.Key.At, Ranks.ShowDefault);
            seen = true;
        }

        if (!seen)
            diagnostics.Add(PlanCodes.UnseenSetting, line.Key.At, $"the profile of {profile.Desk} maps no talk circuit {number}", "leave it out, or map desk/talk in the profile");
        foreach (var (target, value) in line.Keys.To)
        {
            if (value is not null && value.Text is not ("on" or "off"))
                diagnostics.Add(DocumentCodes.BadValue, value.At, $"a talk route is on or off, so '{value.Text}' has no meaning", $"write {target.Text}: on");
            foreach (var bus in names.Buses(target, out _, out _))
                table.Say(lead + bus.Replace('/', '-'), value?.Text != "off", (value ?? target).At, Ranks.Narrowed(Ranks.StripFeed, line.Numbers.Count));
        }
    }
}
