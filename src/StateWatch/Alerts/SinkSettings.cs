namespace StateWatch.Alerts;

/// <summary>
/// One sink as the settings have it, under <c>sinks:NAME</c>. Everything is text, so that a wrong value is told by the sink factory with its key
/// and what to write instead; only what belongs to its kind may be there. Secrets are never here, only where they are.
/// </summary>
internal sealed class SinkSettings
{
    /// <summary>Its name: the key it stands under.</summary>
    public string? Name { get; set; }

    /// <summary><c>log</c>, <c>osc</c>, <c>webhook</c> or <c>mqtt</c>.</summary>
    public string? Kind { get; set; }

    /// <summary>What matters less is not told there: <c>notice</c> (log, without one), <c>warning</c> (the others) or <c>urgent</c>.</summary>
    public string? Least { get; set; }

    /// <summary>Of webhook and mqtt: <c>show</c> (the default) or <c>hide</c>: whether people's names may be in what is sent.</summary>
    public string? Names { get; set; }

    /// <summary>Of osc and mqtt: host name or address.</summary>
    public string? Host { get; set; }

    /// <summary>Of osc and mqtt: 1 to 65535; mqtt without one: 1883, with TLS 8883.</summary>
    public string? Port { get; set; }

    /// <summary>Of osc: the message sent for each alert.</summary>
    public OscMessageSettings? Alert { get; set; }

    /// <summary>Of osc: the message that says how a desk stands, sent after each alert and with every beat.</summary>
    public OscMessageSettings? State { get; set; }

    /// <summary>Of webhook: where to post to, https; nothing secret in it.</summary>
    public string? Url { get; set; }

    /// <summary>Of webhook: file with the secret that signs, base64, <c>whsec_</c> before it or not.</summary>
    public string? SecretFile { get; set; }

    /// <summary>Of webhook: the environment variable with the secret that signs.</summary>
    public string? SecretVariable { get; set; }

    /// <summary>Of webhook: file with a token that the receiver asks for (<c>Authorization: Bearer</c>).</summary>
    public string? TokenFile { get; set; }

    /// <summary>Of webhook: the environment variable with that token.</summary>
    public string? TokenVariable { get; set; }

    /// <summary>Of mqtt: the first levels of every topic; <c>statewatch</c> without one.</summary>
    public string? Prefix { get; set; }

    /// <summary>Of mqtt: the protocol's version, <c>5</c> (the default) or <c>3.1.1</c>.</summary>
    public string? Version { get; set; }

    /// <summary>Of mqtt: the user name at the broker.</summary>
    public string? User { get; set; }

    /// <summary>Of mqtt: file with the password.</summary>
    public string? PasswordFile { get; set; }

    /// <summary>Of mqtt: the environment variable with the password.</summary>
    public string? PasswordVariable { get; set; }

    /// <summary>Of mqtt: <c>on</c> or <c>off</c> (the default).</summary>
    public string? Tls { get; set; }

    /// <summary>Of webhook and mqtt: PEM file with the certificates of those who may vouch for the receiver, instead of the system's.</summary>
    public string? CaFile { get; set; }

    /// <summary>Of webhook and mqtt: <c>allowed</c> when alerts (webhook) or a password (mqtt) may cross the network in the clear; on this machine they may anyway.</summary>
    public string? Plain { get; set; }
}

/// <summary>An OSC message of the user's.</summary>
internal sealed class OscMessageSettings
{
    /// <summary>Its address, such as <c>/foyer/lamp</c>.</summary>
    public string? Address { get; set; }

    /// <summary>Its arguments in order, each a type and what goes in: <c>s:{text}</c>, <c>i:{severitynumber}</c>.</summary>
    public IList<string>? Arguments { get; set; }
}
