using Microsoft.Extensions.Hosting.Systemd;
using StateWatch.Alerts;
using StateWatch.History;

namespace StateWatch.Hosting;

/// <summary>What a watch gets from outside; other things in tests.</summary>
/// <param name="History">Where everything is kept; disposed of with the watch.</param>
/// <param name="Log">The log; disposed of with the watch.</param>
internal sealed record WatchOutside(IWatchHistory History, Serilog.Core.Logger Log)
{
    /// <summary>Makes a sink from its settings, or says what is wrong with them.</summary>
    public Func<SinkSettings, SinkSurroundings, ValueTask<SinkOffer>> MakeSink { get; init; } = static (settings, around) => SinkFactory.Create(settings, around, CancellationToken.None);

    /// <summary>The manager that started it, if one did.</summary>
    public ISystemdNotifier Notifier { get; init; } = new SystemdNotifier();

    /// <summary>The time.</summary>
    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>Whether the time of day can be trusted.</summary>
    public Func<bool> IsClockSynchronised { get; init; } = ClockTrust.IsSynchronised;

    /// <summary>Half of the time for which the manager waits for a sign of life; null when none waits.</summary>
    public TimeSpan? WatchdogHalf { get; init; }

    /// <summary>Whether signals of the process are the watch's.</summary>
    public bool TakesSignals { get; init; } = true;

    /// <summary>How long sinks get to finish when the watch ends.</summary>
    public TimeSpan SinksGet { get; init; } = TimeSpan.FromSeconds(5);
}
