using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace StateWatch.Alerts.Webhooks;

/// <summary>
/// Signs what is posted as the Standard Webhooks specification says: <c>webhook-signature</c> is <c>v1,</c> and the base64 of HMAC-SHA256 over id, full stop, timestamp, full stop, body. The
/// timestamp is that of the try, so that a receiver can refuse what is replayed; the id is that of the event.
/// </summary>
internal sealed class WebhookSigner
{
    /// <summary>The shortest and the longest secret, in bytes, as the specification asks.</summary>
    public const int Shortest = 24;

    /// <inheritdoc cref="Shortest"/>
    public const int Longest = 64;

    private const string SecretPrefix = "whsec_";

    private readonly byte[] _secret;

    private WebhookSigner(byte[] secret) => _secret = secret;

    /// <summary>Takes a secret.</summary>
    /// <param name="secret">Base64, <c>whsec_</c> before it or not.</param>
    /// <param name="fault">What is wrong and what to do, without the secret; null when nothing is.</param>
    public static WebhookSigner? Of(string secret, out string? fault)
    {
        var text = secret.StartsWith(SecretPrefix, StringComparison.Ordinal) ? secret[SecretPrefix.Length..] : secret;
        var bytes = new byte[text.Length];
        if (!Convert.TryFromBase64String(text, bytes, out var length))
            fault = "the secret is not base64; make one with 'openssl rand -base64 32' and give it to the receiver too";
        else if (length is < Shortest or > Longest)
            fault = $"the secret has {length} bytes, and a good one {Shortest} to {Longest}; make one with 'openssl rand -base64 32' and give it to the receiver too";
        else
            fault = null;
        return fault is null ? new WebhookSigner(bytes[..length]) : null;
    }

    /// <summary>A name for the event that a header can carry and that holds no full stop: the same for each try.</summary>
    /// <param name="source">The event's source.</param>
    /// <param name="id">The event's id.</param>
    public static string IdOf(string source, string id) => "sw_" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{source}\n{id}")))[..40];

    /// <summary>The signature of a body.</summary>
    public string Sign(string id, DateTimeOffset time, ReadOnlySpan<byte> body)
    {
        byte[] signed = [.. Encoding.UTF8.GetBytes($"{id}.{Seconds(time)}."), .. body];
        return "v1," + Convert.ToBase64String(HMACSHA256.HashData(_secret, signed));
    }

    /// <summary>The timestamp as the header has it: whole seconds since 1970.</summary>
    public static string Seconds(DateTimeOffset time) => time.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
}
