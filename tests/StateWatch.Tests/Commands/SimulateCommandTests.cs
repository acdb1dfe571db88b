using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Commands;

/// <summary>The virtual desk in a process of its own, swept by another.</summary>
[Collection(SocketsGroup.Name)]
public sealed class SimulateCommandTests
{
    [Fact]
    public async Task A_virtual_desk_as_planned_is_swept_by_another_process()
    {
        using var desk = await VirtualDeskProcess.Start(ShippedFiles.Plan);
        var (exitCode, _, errors) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--desk", desk.Address);
        Assert.Equal((0, ""), (exitCode, errors));
    }

    [Fact]
    public async Task A_faulty_network_still_gives_full_coverage()
    {
        using var desk = await VirtualDeskProcess.Start(ShippedFiles.Plan, "--loss", "5", "--duplicates", "5", "--delay", "20");
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--desk", desk.Address, "--format", "json");
        Assert.Equal(0, exitCode);
        Assert.Contains("\"complete\": true", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_desk_after_a_reset_is_far_from_the_plan()
    {
        using var desk = await VirtualDeskProcess.Start(ShippedFiles.Desk);
        var (exitCode, output, _) = await StatewatchProcess.Run("sweep", ShippedFiles.Plan, "--desk", desk.Address);
        Assert.Equal(2, exitCode);
        Assert.Contains("source-missing", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_port_in_use_is_an_error_with_advice()
    {
        using var desk = await VirtualDeskProcess.Start(ShippedFiles.Plan);
        var port = desk.Address[(desk.Address.LastIndexOf(':') + 1)..];
        var (exitCode, _, errors) = await StatewatchProcess.Run("simulate", ShippedFiles.Plan, "--port", port, "--seconds", "1");
        Assert.NotEqual(0, exitCode);
        Assert.Contains(port, errors, StringComparison.Ordinal);
    }
}
