namespace StateWatch.Hosting.Settings;

/// <summary>Every key that settings may have.</summary>
internal static class SettingsKeys
{
    private static readonly ValueForm File = new TextForm("a path; relative to the settings file");
    private static readonly ValueForm Variable = new TextForm("the name of an environment variable");

    /// <summary>All of them, in the order in which they are explained.</summary>
    public static IReadOnlyList<SettingsKey> All { get; } =
    [
        new("site", new NameForm(), "Where this is. The first part of every finding's key.") { Default = "the machine's name" },
        new("desks:*", new NameForm(), "A desk by its name, the second part of every finding's key. `statewatch` is taken: it is the watch's own."),
        new("desks:*:plan", File, "The plan it is watched by. Required."),
        new("desks:*:address", new HostForm(), "Where the desk is.") { Default = "the profile's `to`" },
        new("desks:*:phase", new ChoiceForm([.. Core.Plans.Phases.All]), "The phase to begin with when nothing is remembered of the desk.") { Default = "the plan's" },
        new("state", File, "Folder for what must survive: the history.") { Default = "`$STATE_DIRECTORY`, else `statewatch` in `$XDG_STATE_HOME` or `~/.local/state`" },
        new("control", File, "Unix socket for `status`, `ack`, `hold`, `phase` and `cue`.") { Default = "`control.sock` in `$RUNTIME_DIRECTORY`, else in `$XDG_RUNTIME_DIR/statewatch`, else in `state`" },
        new("http:listen", new ListenForm(), "Where `/live`, `/ready` and `/metrics` are served. Another address than this machine's own (127.0.0.1, ::1) needs a token.") { Default = "not served" },
        new("http:tokenFile", File, "File with a token of at least 16 characters, which whoever asks must send (`Authorization: Bearer`).") { Default = "none asked for" },
        new("messages:listen", new ListenForm(), "Where OSC messages are taken by which a phase or cue of a plan begins (UDP).") { Default = "none taken" },
        new("history:days", new WholeForm(1, 36_500, "days"), "How long the history is kept. What still stands or waits for a sink is kept whatever this says.") { Default = "90" },
        new("history:megabytes", new WholeForm(1, 1_000_000, "MB"), "How large it may be.") { Default = "1,000" },
        new("history:freeMegabytes", new WholeForm(0, 1_000_000, "MB"), "How much of the disk it leaves free.") { Default = "500" },
        new("history:connectionFile", File, "File with how to reach a PostgreSQL server that keeps the history instead, for many sites: `Host=db.example;Database=statewatch;Username=watch;Password=…`. Size and disk are that server's business.") { Default = "files in `state`" },
        new("sinks:*", new NameForm(), "Somebody who is told, by name.") { Default = "`log`, of kind log" },
        new("sinks:*:kind", new ChoiceForm("log", "osc", "webhook", "mqtt"), "How. Required."),
        new("sinks:*:names", new ChoiceForm("show", "hide"), "webhook, mqtt: whether people's names may be in what is sent.") { Default = "`names` above" },
        new("sinks:*:host", new TextForm("a host name or address"), "osc, mqtt: where to."),
        new("sinks:*:port", new WholeForm(1, 65535), "osc, mqtt: its port.") { Default = "mqtt: 1883, with TLS 8883" },
        new("sinks:*:alert:address", new TextForm("an OSC address"), "osc: the message sent for each alert."),
        new("sinks:*:alert:arguments:*", new TextForm("a type and a text, such as `s:{text}`"), "osc: its arguments, in order."),
        new("sinks:*:state:address", new TextForm("an OSC address"), "osc: the message that says how a desk stands, after each alert and every 30 s."),
        new("sinks:*:state:arguments:*", new TextForm("a type and a text, such as `i:{severitynumber}`"), "osc: its arguments, in order."),
        new("sinks:*:url", new TextForm("an https address without secrets"), "webhook: where to post to."),
        new("sinks:*:least", new ChoiceForm("notice", "warning", "urgent"), "What matters less is not told there.") { Default = "warning; log: notice" },
        new("sinks:*:secretFile", File, "webhook: file with the secret that signs."),
        new("sinks:*:secretVariable", Variable, "webhook: or the variable with it."),
        new("sinks:*:tokenFile", File, "webhook: file with a token that the receiver asks for."),
        new("sinks:*:tokenVariable", Variable, "webhook: or the variable with it."),
        new("sinks:*:prefix", new TextForm("a topic"), "mqtt: the first levels of every topic.") { Default = "statewatch" },
        new("sinks:*:version", new ChoiceForm("5", "3.1.1"), "mqtt: the protocol's version.") { Default = "5" },
        new("sinks:*:user", new TextForm("a name"), "mqtt: the user name at the broker."),
        new("sinks:*:passwordFile", File, "mqtt: file with the password."),
        new("sinks:*:passwordVariable", Variable, "mqtt: or the variable with it."),
        new("sinks:*:tls", new ChoiceForm("on", "off"), "mqtt: whether the connection is encrypted.") { Default = "off" },
        new("sinks:*:caFile", File, "webhook, mqtt: PEM file of those who may vouch for the receiver.") { Default = "the system's" },
        new("sinks:*:plain", new ChoiceForm("allowed"), "webhook, mqtt: alerts (webhook) or a password (mqtt) may cross the network in the clear. To this machine they may anyway."),
        new("names", new ChoiceForm("show", "hide"), "Whether people's names may leave this machine by webhook and MQTT.") { Default = "show" },
        new("record:folder", File, "Folder for recordings: everything a watch decides by, a file for each desk and start, readable by its owner alone. A recording ends before it takes what `history:freeMegabytes` keeps free (and 100 MB more). `history replay` plays them again.") { Default = "nothing is recorded" },
        new("record:megabytes", new WholeForm(1, 100_000, "MB"), "How large one recording may be; what comes after is not recorded.") { Default = "200" },
        new("record:files", new WholeForm(1, 10_000), "How many are kept of each desk.") { Default = "10" },
        new("log:folder", File, "Folder for log files in compact JSON.") { Default = "`$LOGS_DIRECTORY`, else no files" },
        new("log:level", new ChoiceForm("debug", "information", "warning", "error"), "The least that is logged.") { Default = "information" },
        new("log:megabytes", new WholeForm(1, 1000, "MB"), "How large one log file may be.") { Default = "10" },
        new("log:files", new WholeForm(1, 1000), "How many are kept.") { Default = "10" },
    ];

    /// <summary>The key of a path, or null.</summary>
    public static SettingsKey? Find(string path) => All.FirstOrDefault(key => Matches(key.Path.Split(':'), path.Split(':')));

    /// <summary>Whether keys lie below a path.</summary>
    public static bool IsSection(string path)
    {
        var parts = path.Split(':');
        return All.Any(key => key.Path.Split(':') is var known && known.Length > parts.Length && Matches(known[..parts.Length], parts));
    }

    /// <summary>Whether items without names stand at a path.</summary>
    public static bool IsList(string path) => path.EndsWith(":arguments", StringComparison.OrdinalIgnoreCase);

    /// <summary>The words that may stand at the last place of a path.</summary>
    public static IEnumerable<string> Beside(string path)
    {
        var parts = path.Split(':');
        return All.Select(key => key.Path.Split(':'))
            .Where(known => known.Length >= parts.Length && Matches(known[..(parts.Length - 1)], parts[..^1]))
            .Select(known => known[parts.Length - 1]).Where(word => word != "*").Distinct(StringComparer.Ordinal);
    }

    private static bool Matches(string[] known, string[] parts) =>
        known.Length == parts.Length && known.Zip(parts).All(static pair => pair.First == "*" || string.Equals(pair.First, pair.Second, StringComparison.OrdinalIgnoreCase));
}
