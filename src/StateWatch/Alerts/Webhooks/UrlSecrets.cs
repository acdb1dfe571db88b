namespace StateWatch.Alerts.Webhooks;

/// <summary>Looks for secrets in addresses, which end up in logs at both ends.</summary>
internal static class UrlSecrets
{
    private static readonly string[] Names = ["token", "access_token", "secret", "password", "passwd", "key", "apikey", "api_key", "auth", "signature", "sig"];

    /// <summary>The name of a parameter that looks like a secret, or null.</summary>
    public static string? In(Uri url) =>
        url.Query.TrimStart('?').Split('&').Select(static part => part.Split('=')[0]).FirstOrDefault(static name => Names.Contains(name.Replace('-', '_'), StringComparer.OrdinalIgnoreCase));
}
