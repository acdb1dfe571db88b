using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Documentation;

/// <summary>What README shows is what the program prints.</summary>
[Collection(SocketsGroup.Name)]
public sealed class ReadmeTests
{
    private static readonly string Readme = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "README.md"));

    [Fact]
    public async Task The_volunteers_ten_lines_are_what_the_demo_prints()
    {
        var (_, output, _) = await StatewatchProcess.Run("sweep", "--demo", "--for", "volunteer");
        Assert.Equal(Block("```text\n"), string.Join('\n', output.Split('\n').Take(10)));
    }

    [Fact]
    public async Task The_trace_is_what_its_command_prints_and_has_the_caution()
    {
        const string Prompt = "```text\n$ statewatch trace ";
        var lines = Block(Prompt).Split('\n');
        var (exitCode, output, errors) = await StatewatchProcess.Run(["trace", .. lines[0].Split(' ')]);
        Assert.Equal((1, ""), (exitCode, errors));
        Assert.Equal(string.Join('\n', lines[1..]), output.TrimEnd('\n'));
        Assert.Contains("Fader down first", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_margin_is_what_its_command_prints_and_stands_beside_its_cautions()
    {
        const string Prompt = "```text\n$ statewatch sweep ";
        var lines = Block(Prompt).Split('\n');
        var (exitCode, output, _) = await StatewatchProcess.Run(["sweep", .. lines[0].Split(' ')]);
        Assert.Equal(1, exitCode);
        var printed = output.Split('\n');
        var at = -1;
        foreach (var line in lines[1..])
            Assert.True((at = Array.IndexOf(printed, line, at + 1)) >= 0, line);
        Assert.All((string[])["cupped grille", "Sudden level can injure hearing", "local codes", "98-126"], caution => Assert.Contains(caution, Readme, StringComparison.Ordinal));
    }

    [Fact]
    public void There_are_exactly_two_set_up_commands()
    {
        var commands = Readme.Split('\n').Where(line => line.StartsWith("dotnet ", StringComparison.Ordinal)).ToList();
        Assert.Equal(["dotnet run --project src/StateWatch -c Release -- sweep --demo", "dotnet test -c Release"], commands);
    }

    [Theory]
    [InlineData("sweep")]
    [InlineData("trace")]
    [InlineData("capture")]
    [InlineData("check")]
    [InlineData("simulate")]
    public async Task Every_verb_has_help_that_names_its_exit_or_end(string verb)
    {
        var (exitCode, output, errors) = await StatewatchProcess.Run(verb, "--help");
        Assert.Equal((0, ""), (exitCode, errors));
        Assert.Contains($"statewatch {verb}", output, StringComparison.Ordinal);
        Assert.True(output.Contains("Exit codes", StringComparison.Ordinal) || output.Contains("Ctrl-C", StringComparison.Ordinal));
    }

    private static string Block(string fence)
    {
        var start = Readme.IndexOf(fence, StringComparison.Ordinal) + fence.Length;
        return Readme[start..Readme.IndexOf("\n```", start, StringComparison.Ordinal)];
    }
}
