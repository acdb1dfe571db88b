using System.Net;
using System.Net.Sockets;

namespace StateWatch.Alerts.Webhooks;

/// <summary>The first of several addresses of one machine that answers.</summary>
internal static class FirstAddress
{
    /// <summary>How long one may take, so that an address that swallows everything leaves time for the next.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(3);

    /// <summary>Tries one after the other.</summary>
    /// <exception cref="SocketException">None answers; why the last one did not.</exception>
    public static async ValueTask<T> Of<T>(IReadOnlyList<IPAddress> addresses, Func<IPAddress, CancellationToken, ValueTask<T>> connect, TimeProvider clock, CancellationToken cancel)
    {
        var last = new SocketException((int)SocketError.HostNotFound);
        foreach (var address in addresses)
        {
            using var limit = new CancellationTokenSource(Limit, clock);
            using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancel);
            try
            {
                return await connect(address, either.Token);
            }
            catch (SocketException problem)
            {
                last = problem;
            }
            catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
            {
                last = new SocketException((int)SocketError.TimedOut);
            }
        }

        throw last;
    }
}
