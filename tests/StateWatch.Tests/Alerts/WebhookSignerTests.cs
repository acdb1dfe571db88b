using System.Diagnostics;
using System.Security.Cryptography;
using System.Text;
using StateWatch.Alerts.Webhooks;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Alerts;

/// <summary>Signatures against the example of the Standard Webhooks specification, and against Python's hmac.</summary>
public sealed class WebhookSignerTests
{
    private const string Script = """
        import base64, hashlib, hmac, sys
        secret, id, time, body = sys.argv[1:]
        if secret.startswith('whsec_'): secret = secret[6:]
        print('v1,' + base64.b64encode(hmac.new(base64.b64decode(secret), f'{id}.{time}.{body}'.encode(), hashlib.sha256).digest()).decode())
        """;

    // The test vector that the reference libraries of the specification share; from memory, and Python agrees below.
    private const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    [Fact]
    public void The_signature_is_that_of_the_specifications_example() =>
        Assert.Equal("v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
            WebhookSigner.Of(Secret, out _)!.Sign("msg_p5jXN8AQM9LWM0D4loKWxJek", DateTimeOffset.FromUnixTimeSeconds(1614265330), """{"test": 2432232314}"""u8));

    [Theory]
    [InlineData("msg_p5jXN8AQM9LWM0D4loKWxJek", 1614265330, """{"test": 2432232314}""")]
    [InlineData("sw_1", 0, "")]
    [InlineData("sw_2", 1796546407, """{"text":"süd – ✓"}""")]
    public async Task Python_signs_the_same(string id, long time, string body)
    {
        Assert.SkipUnless(SheetPeer.IsPossible, "python3 is not installed; it signs independently");
        foreach (var secret in new[] { Secret, Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(id))) })
        {
            var start = new ProcessStartInfo("python3") { UseShellExecute = false, RedirectStandardOutput = true };
            foreach (var argument in (string[])["-c", Script, secret, id, $"{time}", body])
                start.ArgumentList.Add(argument);
            using var python = Process.Start(start)!;
            var expected = await python.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
            await python.WaitForExitAsync(TestContext.Current.CancellationToken);
            Assert.Equal(expected.Trim(), WebhookSigner.Of(secret, out _)!.Sign(id, DateTimeOffset.FromUnixTimeSeconds(time), Encoding.UTF8.GetBytes(body)));
        }
    }

    [Theory]
    [InlineData("not base64!", "not base64")]
    [InlineData("whsec_c2hvcnQ=", "5 bytes")]
    [InlineData("", "0 bytes")]
    public void A_secret_that_is_none_is_told_without_saying_it(string secret, string words)
    {
        Assert.Null(WebhookSigner.Of(secret, out var fault));
        Assert.Contains(words, fault, StringComparison.Ordinal);
        Assert.Contains("openssl rand", fault, StringComparison.Ordinal);
        Assert.True(secret.Length == 0 || !fault!.Contains(secret, StringComparison.Ordinal));
    }

    [Fact]
    public void A_name_of_an_event_is_the_same_each_time_and_fits_a_header()
    {
        var id = WebhookSigner.IdOf("urn:statewatch:barn/midwinter", "barn/midwinter/tap-wrong:input/ä.1#1#1");
        Assert.Equal(id, WebhookSigner.IdOf("urn:statewatch:barn/midwinter", "barn/midwinter/tap-wrong:input/ä.1#1#1"));
        Assert.NotEqual(id, WebhookSigner.IdOf("urn:statewatch:barn/midwinter", "barn/midwinter/tap-wrong:input/ä.1#1#2"));
        Assert.True(id.All(static letter => char.IsAsciiLetterOrDigit(letter) || letter == '_'));
    }
}
