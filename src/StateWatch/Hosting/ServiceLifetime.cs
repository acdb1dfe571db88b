using System.Runtime.InteropServices;

namespace StateWatch.Hosting;

/// <summary>What signals of the process do: SIGTERM and SIGINT end the watch in order, SIGHUP reads every plan anew.</summary>
internal sealed class ServiceLifetime(IHostApplicationLifetime application, WatchService service, bool takesSignals) : IHostLifetime, IDisposable
{
    private readonly List<PosixSignalRegistration> _signals = [];

    public Task WaitForStartAsync(CancellationToken cancellationToken)
    {
        if (!takesSignals)
            return Task.CompletedTask;
        foreach (var signal in (PosixSignal[])[PosixSignal.SIGTERM, PosixSignal.SIGINT, PosixSignal.SIGQUIT])
            _signals.Add(PosixSignalRegistration.Create(signal, End));
        _signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGHUP, context =>
        {
            context.Cancel = true;
            _ = Task.Run(() => service.Reload("SIGHUP"));
        }));
        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public void Dispose()
    {
        foreach (var signal in _signals)
            signal.Dispose();
        _signals.Clear();
    }

    private void End(PosixSignalContext context)
    {
        context.Cancel = true;
        service.EndedBy = context.Signal.ToString();
        application.StopApplication();
    }
}
