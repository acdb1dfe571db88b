namespace StateWatch.Alerts.Mqtt;

/// <summary>How to reach a broker.</summary>
/// <param name="Host">Host name or address.</param>
/// <param name="Port">Its port.</param>
/// <param name="ClientId">Who we are. Always the same for one sink: a connection that was lost and hangs at the broker is then closed by the next one, before that says that it is there.</param>
internal sealed record MqttBroker(string Host, int Port, string ClientId)
{
    /// <summary>The user name, or null.</summary>
    public string? User { get; init; }

    /// <summary>The password, or null.</summary>
    public string? Password { get; init; }

    /// <summary>Whether the connection is encrypted.</summary>
    public bool HasTls { get; init; }

    /// <summary>Who may vouch for the broker; null for those whom the system trusts.</summary>
    public CertificateTrust? Trust { get; init; }

    /// <summary>Whether version 3.1.1 of the protocol is spoken instead of 5.</summary>
    public bool IsVersion3 { get; init; }

    /// <summary>Where it is, for people.</summary>
    public string Place => $"{(HasTls ? "mqtts" : "mqtt")} {(Host.Contains(':', StringComparison.Ordinal) ? $"[{Host}]" : Host)}:{Port}";
}
