using System.Globalization;
using System.Net;
using StateWatch.Alerts.Mqtt;
using StateWatch.Alerts.Osc;
using StateWatch.Alerts.Webhooks;
using StateWatch.Links;

namespace StateWatch.Alerts;

/// <summary>Makes sinks from settings, or says everything that is wrong with them.</summary>
internal sealed class SinkFactory
{
    private const int PlainMqttPort = 1883;
    private const int TlsMqttPort = 8883;

    private static readonly string[] Kinds = ["log", "osc", "webhook", "mqtt"];

    private readonly SinkSettings _settings;
    private readonly SinkSurroundings _around;
    private readonly List<SinkFault> _faults = [];

    private SinkFactory(SinkSettings settings, SinkSurroundings around) => (_settings, _around) = (settings, around);

    private string Name => _settings.Name ?? "";

    /// <summary>Makes one. Its receiver is looked up: one that is a watched desk is refused; one that cannot be found now may be found later.</summary>
    public static async ValueTask<SinkOffer> Create(SinkSettings settings, SinkSurroundings around, CancellationToken cancel)
    {
        var factory = new SinkFactory(settings, around);
        var (sink, host, port) = factory.Make();
        if (factory._faults.Count == 0 && host.Length > 0)
            await factory.CheckReceiver(host, port, cancel);
        if (factory._faults.Count == 0)
            return new SinkOffer(sink, []);
        if (sink is not null)
            await sink.DisposeAsync();
        return new SinkOffer(null, factory._faults);
    }

    private (IAlertSink? Sink, string Host, int Port) Make()
    {
        if (!Kinds.Contains(_settings.Kind, StringComparer.Ordinal))
        {
            Add("kind", _settings.Kind is null ? "it does not say how to tell; write kind: and log, osc, webhook or mqtt" : $"'{_settings.Kind}' is no kind of sink; write log, osc, webhook or mqtt");
            return default;
        }

        _faults.AddRange(SinkKeys.Misplaced(_settings));
        _ = Choice("least", _settings.Least, "notice", "warning", "urgent");
        return _settings.Kind switch
        {
            "osc" => Osc(),
            "webhook" => Webhook(),
            "mqtt" => Mqtt(),
            _ => (new LogSink(Name, _around.Log), "", 0),
        };
    }

    private (IAlertSink? Sink, string Host, int Port) Osc()
    {
        var (host, port) = (Host(), Port(null));
        var alert = Message("alert", _settings.Alert, OscValues.OfAlert);
        var state = Message("state", _settings.State, OscValues.OfState);
        if (_settings.Alert is null && _settings.State is null)
            Add("", "it has nothing to send; add alert: or state: with an address and arguments");
        return _faults.Count > 0 ? default : (new OscSink(Name, (host, port), alert, state, _around.Guard, _around.Clock), host, port);
    }

    private OscTemplate? Message(string key, OscMessageSettings? settings, IReadOnlyDictionary<string, OscPlaceholder> known)
    {
        if (settings is null)
            return null;
        var faults = new List<(string Key, string Words)>();
        var template = OscTemplate.Read(settings, known, faults);
        foreach (var (below, words) in faults)
            Add($"{key}:{below}", words);
        return template;
    }

    private (IAlertSink? Sink, string Host, int Port) Webhook()
    {
        var url = Url(IsPlainAllowed());
        var secret = Secret("secretFile", _settings.SecretFile, "secretVariable", _settings.SecretVariable);
        if (_settings.SecretFile is null && _settings.SecretVariable is null)
            Add("", "it has no secret to sign with; make one with 'openssl rand -base64 32', put it into a file and write secretFile:, or secretVariable: and a variable");
        var (signer, wrong) = secret is null ? default : (WebhookSigner.Of(secret, out var fault), fault);
        if (wrong is not null)
            Add(_settings.SecretFile is null ? "secretVariable" : "secretFile", wrong);
        var token = Secret("tokenFile", _settings.TokenFile, "tokenVariable", _settings.TokenVariable);
        // RFC 6750, 2.1: a bearer token.
        if (token?.All(static letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '.' or '_' or '~' or '+' or '/' or '=') == false)
            Add(_settings.TokenFile is null ? "tokenVariable" : "tokenFile", "a token is letters, digits and - . _ ~ + / = without space; see whether this is the right one");
        var (trust, names) = (Trust(), Names());
        return _faults.Count > 0 ? default : (new WebhookSink(Name, url!, signer!, new AlertPayload(names), _around.Guard, _around.Clock, token, trust), url!.IdnHost.Trim('[', ']'), url.Port);
    }

    private Uri? Url(bool isPlainAllowed)
    {
        const string example = "write the receiver's address, such as https://alerts.example.org/desk";
        if (!Uri.TryCreate(_settings.Url, UriKind.Absolute, out var url) || (url.Scheme != Uri.UriSchemeHttps && url.Scheme != Uri.UriSchemeHttp))
        {
            Add("url", _settings.Url is null ? $"it does not say where to post to; {example}" : $"this is no web address; {example}");
            return null;
        }

        if (url.UserInfo.Length > 0)
            Add("url", "there is a name or password in it, and addresses are logged; take it out and write tokenFile: or tokenVariable:");
        if (url.Fragment.Length > 0)
            Add("url", "what follows '#' is never sent; leave it out");
        if (UrlSecrets.In(url) is { } parameter)
            Add("url", $"'{parameter}' in it looks like a secret, and addresses are logged; take it out and write tokenFile: or tokenVariable:");
        if (url.Scheme == Uri.UriSchemeHttp && !url.IsLoopback && !isPlainAllowed)
            Add("url", "it is not encrypted, and alerts would cross the network in the clear; write https, or plain: allowed");
        return url;
    }

    private (IAlertSink? Sink, string Host, int Port) Mqtt()
    {
        var isPlainAllowed = IsPlainAllowed();
        var isTls = Choice("tls", _settings.Tls, "off", "on") == "on";
        var (host, port) = (Host(), Port(isTls ? TlsMqttPort : PlainMqttPort));
        var isVersion3 = Choice("version", _settings.Version, "5", "3.1.1") == "3.1.1";
        var password = Secret("passwordFile", _settings.PasswordFile, "passwordVariable", _settings.PasswordVariable);
        if (password is not null && _settings.User is null)
            Add("user", "there is a password and no user; write user:");
        if (password is not null && !isTls && !IsHere(host) && !isPlainAllowed)
            Add("tls", "the password would cross the network in the clear; write tls: on, or plain: allowed");
        if (!isTls && _settings.CaFile is not null)
            Add("caFile", "it is for encrypted connections only; write tls: on, or leave it out");
        var prefix = _settings.Prefix ?? "statewatch";
        if (prefix.Length == 0 || prefix[0] is '/' or '$' || prefix[^1] == '/' || prefix.Any(static letter => letter is '+' or '#' || char.IsControl(letter)))
            Add("prefix", $"'{prefix}' cannot begin a topic; write levels with '/' between them and without '+' and '#', such as hall/desks");
        var (trust, names) = (Trust(), Names());
        var broker = new MqttBroker(host, port, $"statewatch-{_around.Site}-{Name}") { User = _settings.User, Password = password, HasTls = isTls, Trust = trust, IsVersion3 = isVersion3 };
        return _faults.Count > 0 ? default : (new MqttSink(Name, broker, new MqttTopics(prefix, _around.Site), new AlertPayload(names), _around.Guard), host, port);
    }

    private string Host()
    {
        var host = _settings.Host?.Trim('[', ']') ?? "";
        if (host.Length == 0)
            Add("host", "it does not say where to send to; write a host name or address, such as 192.0.2.40");
        else if (Uri.CheckHostName(host) == UriHostNameType.Unknown)
            Add("host", $"'{host}' is neither a host name nor an address; write it without port and slashes, such as 192.0.2.40");
        return host;
    }

    private int Port(int? otherwise)
    {
        if (_settings.Port is null && otherwise is { } usual)
            return usual;
        if (int.TryParse(_settings.Port, NumberStyles.None, CultureInfo.InvariantCulture, out var port) && port is >= 1 and <= 65535)
            return port;
        Add("port", _settings.Port is null ? "it does not say which port; write 1 to 65535" : $"'{_settings.Port}' is no port; write 1 to 65535");
        return 0;
    }

    private string? Secret(string fileKey, string? file, string variableKey, string? variable)
    {
        var secret = Secrets.Read(file, variable, _around.Environment, out var fault);
        if (fault is { } wrong)
            Add(wrong.IsFile ? fileKey : variableKey, wrong.Words);
        return secret;
    }

    private CertificateTrust? Trust()
    {
        if (_settings.CaFile is not { } file)
            return null;
        var trust = CertificateTrust.Read(file, out var fault);
        if (fault is not null)
            Add("caFile", fault);
        return trust;
    }

    private NameHiding Names() => new(Choice("names", _settings.Names, "show", "hide") == "hide", _around.PlannedNames);

    private bool IsPlainAllowed() => Choice("plain", _settings.Plain, "", "allowed") == "allowed";

    private string Choice(string key, string? value, params string[] choices)
    {
        if (value is null || choices.Contains(value, StringComparer.Ordinal))
            return value ?? choices[0];
        var words = string.Join(" or ", choices.Where(static choice => choice.Length > 0));
        Add(key, $"'{value}' means nothing here; write {words}");
        return choices[0];
    }

    private static bool IsHere(string host) => string.Equals(host, "localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host, out var address) && IPAddress.IsLoopback(address));

    private async ValueTask CheckReceiver(string host, int port, CancellationToken cancel)
    {
        try
        {
            await _around.Guard.Resolve(host, port, cancel);
        }
        catch (LinkException problem) when (SinkGuard.IsRefusal(problem))
        {
            Add(_settings.Kind == "webhook" ? "url" : "host", $"{problem.What}: {problem.Where}: {problem.Why}; {problem.Advice}");
        }
        catch (LinkException)
        {
            // Not known yet: the network may come up later, and then it is asked again.
        }
    }

    private void Add(string key, string words) => _faults.Add(new SinkFault(key, words));
}
