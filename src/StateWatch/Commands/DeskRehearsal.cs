using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Files;
using StateWatch.Links;
using StateWatch.Simulator;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Commands;

/// <summary>A virtual desk on a loopback socket that is as planned, apart from scripted incidents.</summary>
internal sealed class DeskRehearsal : IDisposable
{
    private readonly UdpVirtualDesk _desk;

    private DeskRehearsal(UdpVirtualDesk desk) => _desk = desk;

    public string Host => _desk.EndPoint.Address.ToString();

    public int Port => _desk.EndPoint.Port;

    /// <summary>Reads a script of incidents for a desk, or null after diagnostics.</summary>
    public static IncidentScript? ReadScript(FileSet files, string path, DeskProfile profile) =>
        files.Read(path) is { } source ? IncidentReader.Read(source, profile, files.Diagnostics) : null;

    /// <summary>Starts it; every incident has already happened.</summary>
    public static DeskRehearsal Start(ShowPlan plan, IncidentScript? script)
    {
        var desk = MakeDesk(plan);
        foreach (var incident in script?.Incidents ?? [])
            desk.Apply(incident);
        if (script is not null)
            desk.Unanswered = script.Unanswered;
        return new DeskRehearsal(UdpVirtualDesk.Start(desk));
    }

    /// <summary>A virtual desk that is exactly as planned.</summary>
    public static VirtualDesk MakeDesk(ShowPlan plan)
    {
        var desk = new VirtualDesk(plan.Profile);
        foreach (var (setting, value) in PlannedState.Of(plan))
            desk.Set(setting, value);
        return desk;
    }

    public void Dispose() => _desk.Dispose();
}
