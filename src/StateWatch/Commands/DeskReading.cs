using StateWatch.Core.Plans;
using StateWatch.Links;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Commands;

/// <summary>A desk that a verb reads: the real one, or a virtual one of its own. Ctrl-C ends the reading, and what is unread is told.</summary>
internal sealed class DeskReading : IDisposable
{
    private readonly DeskRehearsal? _rehearsal;
    private readonly CancellationTokenSource _cancel = new();

    private DeskReading(DeskRehearsal? rehearsal, UdpDeskReader reader)
    {
        _rehearsal = rehearsal;
        Reader = reader;
        Console.CancelKeyPress += Stop;
    }

    /// <summary>The link.</summary>
    public UdpDeskReader Reader { get; }

    /// <summary>Cancelled by Ctrl-C.</summary>
    public CancellationToken Cancel => _cancel.Token;

    /// <summary>Opens the link.</summary>
    /// <param name="plan">The plan, which a virtual desk stands as.</param>
    /// <param name="simulate">Whether to read a virtual desk.</param>
    /// <param name="script">What happens to the virtual desk, or null.</param>
    /// <param name="address">Where the real desk is, instead of the profile's address; null for that.</param>
    public static DeskReading Open(ShowPlan plan, bool simulate, IncidentScript? script, string? address)
    {
        var rehearsal = simulate ? DeskRehearsal.Start(plan, script) : null;
        try
        {
            return new DeskReading(rehearsal, rehearsal is not null ? UdpDeskReader.Open(plan.Profile, rehearsal.Host, rehearsal.Port) : SharedOptions.Open(address, plan.Profile));
        }
        catch
        {
            rehearsal?.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Console.CancelKeyPress -= Stop;
        Reader.Dispose();
        _rehearsal?.Dispose();
        _cancel.Dispose();
    }

    private void Stop(object? sender, ConsoleCancelEventArgs e)
    {
        e.Cancel = true;
        _cancel.Cancel();
    }
}
