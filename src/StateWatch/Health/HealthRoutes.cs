using System.Security.Cryptography;
using System.Text;
using StateWatch.Control;
using StateWatch.Core.Desks;
using StateWatch.Hosting;

namespace StateWatch.Health;

/// <summary>Whether the watch lives and can do its job, for monitoring.</summary>
internal static class HealthRoutes
{
    /// <summary>200 while every loop comes round.</summary>
    public const string Live = "/live";

    /// <summary>200 while every desk is followed and everything is stored; else 503 and a line for each reason.</summary>
    public const string Ready = "/ready";

    /// <summary>Numbers in the text form of Prometheus.</summary>
    public const string Metrics = "/metrics";

    /// <summary>Lets nobody in without the token, and nobody but the control socket to other paths.</summary>
    public static void Guard(IApplicationBuilder app, string? token)
    {
        var expected = token is null ? null : Encoding.UTF8.GetBytes($"Bearer {token}");
        app.Use((context, next) =>
        {
            if (context.Features.Get<ControlConnection>() is not null)
                return next(context);
            if (expected is not null && !CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(context.Request.Headers.Authorization.ToString()), expected))
            {
                context.Response.StatusCode = StatusCodes.Status401Unauthorized;
                context.Response.Headers.WWWAuthenticate = "Bearer";
                return Task.CompletedTask;
            }

            return next(context);
        });
    }

    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, WatchSite site, HistoryWriter writer)
    {
        routes.MapGet(Live, context => Answer(context, [.. site.Loops.Where(static loop => loop.SinceBeat > DeskLoop.Still).Select(static loop => $"the loop of {loop.Desk} does not come round")]));
        routes.MapGet(Ready, context => Answer(context, [.. Reasons(site, writer)]));
    }

    /// <summary>Why the watch cannot do its job just now.</summary>
    public static IEnumerable<string> Reasons(WatchSite site, HistoryWriter writer)
    {
        foreach (var loop in site.Loops)
        {
            if (!loop.IsTurning || loop.Status is null)
                yield return $"{loop.Desk} is not watched";
            else if (loop.SinceBeat > DeskLoop.Still)
                yield return $"the loop of {loop.Desk} does not come round";
        }

        foreach (var desk in site.Desks)
        {
            if (desk.Loop is { IsTurning: true, Status: { } status } && status.Following != FollowPhase.Following)
                yield return status.Following == FollowPhase.Lost ? $"{desk.Key} does not answer" : $"{desk.Key} is being read";
        }

        if (writer.IsFailing)
            yield return "nothing can be stored";
    }

    private static Task Answer(HttpContext context, string[] reasons)
    {
        context.Response.StatusCode = reasons.Length == 0 ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable;
        context.Response.ContentType = "text/plain; charset=utf-8";
        context.Response.Headers.CacheControl = "no-store";
        return context.Response.WriteAsync(reasons.Length == 0 ? "ok\n" : string.Join('\n', reasons) + "\n");
    }
}
