using System.Diagnostics;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging.Abstractions;
using StateWatch.Alerts;
using StateWatch.Alerts.Osc;
using StateWatch.Alerts.Webhooks;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Alerts;

/// <summary>What the page for those who receive alerts shows works as it stands there.</summary>
public sealed partial class AlertsPageTests
{
    private const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
    private static readonly string Page = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "profiles", "ALERTS.md"));

    [Fact]
    public async Task Every_example_of_settings_gives_a_sink()
    {
        var kinds = new List<string>();
        foreach (var example in Blocks("json"))
        {
            using var json = JsonDocument.Parse(example);
            using var stream = new MemoryStream(Encoding.UTF8.GetBytes(example));
            var settings = new ConfigurationBuilder().AddJsonStream(stream).Build().Get<SinkSettings>()!;
            settings.Name = "one";
            var around = new SinkSurroundings("barn", KnownHosts.Guard(), TimeProvider.System, NullLogger.Instance) { Environment = name => name == "PHONE_SECRET" ? Secret : "opensesame" };
            var offer = await SinkFactory.Create(settings, around, TestContext.Current.CancellationToken);
            Assert.Empty(offer.Faults);
            await offer.Sink!.DisposeAsync();
            kinds.Add(settings.Kind!);
        }

        Assert.Equal(["log", "mqtt", "osc", "webhook"], kinds.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Every_placeholder_is_named_and_no_other()
    {
        foreach (var (line, known) in new[] { ("- alert: ", OscValues.OfAlert), ("- state: ", OscValues.OfState) })
        {
            var named = Code().Matches(Page.Split('\n').Single(one => one.StartsWith(line, StringComparison.Ordinal))).Select(match => match.Groups["code"].Value).Where(one => one != "none");
            Assert.Equal(known.Keys, named);
        }
    }

    [Theory]
    [InlineData("", 0, "True")]
    [InlineData("x", 0, "False")]
    [InlineData("", 301, "False")]
    public async Task The_python_of_the_page_verifies_what_is_ours_and_refuses_the_rest(string added, int later, string expected)
    {
        Assert.SkipUnless(SheetPeer.IsPossible, "python3 is not installed; the page's example is in Python");
        var body = """{"text":"süd"}""";
        var signature = WebhookSigner.Of(Secret, out _)!.Sign("sw_1", Some.Start, Encoding.UTF8.GetBytes(body));
        var script = $$"""
            {{Blocks("python").Single()}}
            import sys
            secret, time_, signature, body, now = sys.argv[1:]
            print(is_ours(secret, {"webhook-id": "sw_1", "webhook-timestamp": time_, "webhook-signature": "v1,AAAA " + signature}, body.encode(), lambda: int(now)))
            """;
        var start = new ProcessStartInfo("python3") { UseShellExecute = false, RedirectStandardOutput = true };
        foreach (var argument in (string[])["-c", script, Secret, WebhookSigner.Seconds(Some.Start), signature, body + added, WebhookSigner.Seconds(Some.Start.AddSeconds(later))])
            start.ArgumentList.Add(argument);
        using var python = Process.Start(start)!;
        var answer = await python.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await python.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(expected, answer.Trim());
    }

    private static IEnumerable<string> Blocks(string language) =>
        Page.Split("```" + language + "\n").Skip(1).Select(static part => part.Split("```")[0]);

    [GeneratedRegex("`(?<code>[^`]+)`", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Code();
}
