namespace StateWatch.Alerts;

/// <summary>Which keys belong to which kind of sink.</summary>
internal static class SinkKeys
{
    private static readonly (string Key, Func<SinkSettings, bool> IsThere, string[] Kinds)[] Keys =
    [
        ("names", static one => one.Names is not null, ["webhook", "mqtt"]),
        ("host", static one => one.Host is not null, ["osc", "mqtt"]),
        ("port", static one => one.Port is not null, ["osc", "mqtt"]),
        ("alert", static one => one.Alert is not null, ["osc"]),
        ("state", static one => one.State is not null, ["osc"]),
        ("url", static one => one.Url is not null, ["webhook"]),
        ("secretFile", static one => one.SecretFile is not null, ["webhook"]),
        ("secretVariable", static one => one.SecretVariable is not null, ["webhook"]),
        ("tokenFile", static one => one.TokenFile is not null, ["webhook"]),
        ("tokenVariable", static one => one.TokenVariable is not null, ["webhook"]),
        ("prefix", static one => one.Prefix is not null, ["mqtt"]),
        ("version", static one => one.Version is not null, ["mqtt"]),
        ("user", static one => one.User is not null, ["mqtt"]),
        ("passwordFile", static one => one.PasswordFile is not null, ["mqtt"]),
        ("passwordVariable", static one => one.PasswordVariable is not null, ["mqtt"]),
        ("tls", static one => one.Tls is not null, ["mqtt"]),
        ("caFile", static one => one.CaFile is not null, ["webhook", "mqtt"]),
        ("plain", static one => one.Plain is not null, ["webhook", "mqtt"]),
    ];

    /// <summary>What is there and belongs to another kind.</summary>
    public static IEnumerable<SinkFault> Misplaced(SinkSettings settings) =>
        Keys.Where(key => key.IsThere(settings) && !key.Kinds.Contains(settings.Kind, StringComparer.Ordinal))
            .Select(key => new SinkFault(key.Key, $"'{key.Key}' is of a sink of kind {string.Join(" or ", key.Kinds)}, and this is one of kind {settings.Kind}; leave it out"));
}
