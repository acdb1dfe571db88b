using System.Text.Json;

namespace StateWatch.Control;

/// <summary>A mark on connections that came in at the control socket: whoever may open it may order.</summary>
internal sealed class ControlConnection;

/// <summary>What the control socket answers; elsewhere these paths are not there.</summary>
internal static class ControlRoutes
{
    /// <summary>The report of how everything stands; <c>?desk=NAME</c> for one desk.</summary>
    public const string Status = "/status";
    public const string Acknowledge = "/ack";
    public const string Hold = "/hold";
    public const string Phase = "/phase";
    public const string Cue = "/cue";

    private const int LongestRequest = 16_384;

    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, Func<string?, StatusReport?> report, ControlOrders orders)
    {
        routes.MapGet(Status, context => IfControl(context, async () =>
        {
            if (report(context.Request.Query["desk"]) is { } made)
                await context.Response.WriteAsJsonAsync(made, ControlJson.Default.StatusReport);
            else
                await Answer(context, new OrderAnswer(false, true, [$"no desk here is called '{context.Request.Query["desk"]}'"]));
        }));
        MapOrder(routes, Acknowledge, orders.Acknowledge);
        MapOrder(routes, Hold, orders.Hold);
        MapOrder(routes, Phase, orders.BeginPhase);
        MapOrder(routes, Cue, orders.BeginCue);
    }

    private static void MapOrder(IEndpointRouteBuilder routes, string path, Func<OrderRequest, Task<OrderAnswer>> give) => routes.MapPost(path, context => IfControl(context, async () =>
    {
        if (context.Request.ContentLength is null or > LongestRequest)
        {
            context.Response.StatusCode = StatusCodes.Status413PayloadTooLarge;
            return;
        }

        OrderRequest? request;
        try
        {
            request = await JsonSerializer.DeserializeAsync(context.Request.Body, ControlJson.Default.OrderRequest, context.RequestAborted);
        }
        catch (JsonException)
        {
            request = null;
        }

        await Answer(context, request is null ? new OrderAnswer(false, true, ["this is no order: send what 'statewatch' itself sends"]) : await give(request));
    }));

    private static Task Answer(HttpContext context, OrderAnswer answer)
    {
        context.Response.StatusCode = answer.Done ? StatusCodes.Status200OK : answer.Unknown ? StatusCodes.Status404NotFound : StatusCodes.Status409Conflict;
        return context.Response.WriteAsJsonAsync(answer, ControlJson.Default.OrderAnswer);
    }

    private static Task IfControl(HttpContext context, Func<Task> answer)
    {
        if (context.Features.Get<ControlConnection>() is not null)
            return answer();
        context.Response.StatusCode = StatusCodes.Status404NotFound;
        return Task.CompletedTask;
    }
}
