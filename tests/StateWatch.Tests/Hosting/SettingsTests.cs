using System.Collections;
using System.Reflection;
using StateWatch.Core.Plans;
using StateWatch.Hosting.Settings;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Hosting;

/// <summary>What settings may say, and how each fault is told: with its place, its key, why, and what to write.</summary>
public sealed class SettingsTests : IDisposable
{
    private const string OneDesk = """{ "desks": { "house": { "plan": "weekly.plan.yaml" } } }""";

    private readonly ScratchFolder _folder = new();
    private readonly Hashtable _environment = new() { ["STATE_DIRECTORY"] = "/var/lib/statewatch", ["RUNTIME_DIRECTORY"] = "/run/statewatch" };

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Whole_settings_are_read()
    {
        _folder.Write("token", "0123456789abcdef0123\n");
        var settings = Good("""
            {
              // what the crew calls it
              "site": "north-hall",
              "desks": { "house": { "plan": "weekly.plan.yaml", "address": "192.0.2.10:9048", "phase": "build" }, "stage": { "plan": "/etc/x/stage.plan.yaml" } },
              "state": "kept", "control": "/run/here/c.sock",
              "http": { "listen": "0.0.0.0:9480", "tokenFile": "token" },
              "messages": { "listen": "127.0.0.1:9481" },
              "history": { "days": 30, "megabytes": "200" },
              "sinks": { "phone": { "kind": "webhook", "url": "https://example.org/in", "secretFile": "key" }, "lamp": { "kind": "osc", "alert": { "address": "/lamp", "arguments": ["i:{severitynumber}"] } } },
              "names": "hide",
              "log": { "folder": "log", "level": "debug", "megabytes": 3, "files": 4 },
            }
            """);
        Assert.Equal("north-hall", settings.Site);
        Assert.Equal(
            [new DeskSettings("house", _folder.PathOf("weekly.plan.yaml")) { Address = "192.0.2.10:9048", Phase = Phase.Build }, new DeskSettings("stage", "/etc/x/stage.plan.yaml")],
            settings.Desks.OrderBy(desk => desk.Name, StringComparer.Ordinal));
        Assert.Equal((_folder.PathOf("kept"), "/run/here/c.sock"), (settings.History.Folder, settings.ControlSocket));
        Assert.Equal(("0.0.0.0:9480", "0123456789abcdef0123"), (settings.Http!.ToString(), settings.HttpToken));
        Assert.Equal("127.0.0.1:9481", settings.Messages!.ToString());
        Assert.Equal((30, 200, 500), (settings.History.KeepDays, settings.History.MostMegabytes, settings.History.LeastFreeMegabytes));
        Assert.Equal(new LogSettings { Folder = _folder.PathOf("log"), Level = "debug", Megabytes = 3, Files = 4 }, settings.Log);
        var phone = settings.Sinks.Single(sink => sink.Name == "phone");
        Assert.Equal(("hide", _folder.PathOf("key")), (phone.Names, phone.SecretFile));
        Assert.Equal(["i:{severitynumber}"], settings.Sinks.Single(sink => sink.Name == "lamp").Alert!.Arguments!);
    }

    [Fact]
    public void Variables_stand_above_the_file()
    {
        _environment["STATEWATCH_site"] = "elsewhere";
        _environment["STATEWATCH_DESKS__HOUSE__ADDRESS"] = "192.0.2.7:9000";
        _environment["STATEWATCH_log__level"] = "error";
        var settings = Good("""{ "site": "here", "desks": { "house": { "plan": "weekly.plan.yaml", "address": "192.0.2.10:9048" } } }""");
        Assert.Equal(("elsewhere", "192.0.2.7:9000", "error"), (settings.Site, Assert.Single(settings.Desks).Address, settings.Log.Level));
    }

    [Fact]
    public void Plans_alone_are_enough()
    {
        var (settings, faults) = SettingsReader.Read(null, _environment, ["shows/midwinter.plan.yaml", "congress.plan.yaml"], ["192.0.2.1:9000"]);
        Assert.Empty(faults);
        Assert.Equal([("midwinter", "192.0.2.1:9000"), ("congress", null)], settings!.Desks.Select(desk => (desk.Name, desk.Address)));
        Assert.Equal(("/var/lib/statewatch", "/run/statewatch/control.sock"), (settings.History.Folder, settings.ControlSocket));
        // Whoever just starts one is told on the console.
        Assert.Equal(("log", "log"), (Assert.Single(settings.Sinks).Name, settings.Sinks[0].Kind));
        Assert.Null(settings.Log.Folder);
        Assert.NotEqual("", settings.Site);
    }

    [Theory]
    [InlineData("""{ "sitte": "x" }""", "1:3", "sitte", "did you mean 'site'?")]
    [InlineData("{\n  \"desks\": {\n    \"house\": { \"plann\": \"x\" } } }", "3:16", "desks:house:plann", "did you mean 'plan'?")]
    [InlineData("""{ "desks": { "house": { "plan": "x", "address": "192.0.2.10" } } }""", "1:38", "desks:house:address", "write it like 192.0.2.10:9000")]
    [InlineData("""{ "desks": { "house": { "plan": "x", "phase": "door" } } }""", "1:38", "desks:house:phase", "did you mean 'doors'?")]
    [InlineData("""{ "desks": [ { "plan": "x" } ] }""", "1:3", "desks", "write each item with its name before it")]
    [InlineData("""{ "desks": { "house": {} } }""", "1:14", "desks:house", "it has no plan")]
    [InlineData("""{ "desks": { "a b": { "plan": "x" } } }""", "1:14", "desks:a b", "cannot be part of a finding's key")]
    [InlineData("""{ "desks": { "statewatch": { "plan": "x" } } }""", "1:14", "desks:statewatch", "give the desk another one")]
    [InlineData("""{ "site": "a/b" }""", "1:3", "site", "cannot be part of a finding's key")]
    [InlineData("""{ "site": { "name": "x" } }""", "1:3", "site", "this takes one value")]
    [InlineData("""{ "http": "127.0.0.1:1" }""", "1:3", "http", "this holds further keys (listen, tokenFile)")]
    [InlineData("""{ "http": { "listen": "localhost:80" } }""", "1:13", "http:listen", "write it like 127.0.0.1:9480")]
    [InlineData("""{ "http": { "listen": "0.0.0.0:9480" }, "desks": { "a": { "plan": "x" } } }""", "1:13", "http:listen", "whoever asks must have a token")]
    [InlineData("""{ "http": { "listen": "127.0.0.1:9480", "tokenFile": "absent" }, "desks": { "a": { "plan": "x" } } }""", "1:41", "http:tokenFile", "cannot be read")]
    [InlineData("""{ "history": { "days": 0 } }""", "1:16", "history:days", "1 to 36,500 days")]
    [InlineData("""{ "history": { "days": "+30" } }""", "1:16", "history:days", "1 to 36,500 days")]
    [InlineData("""{ "site": "\ud800" }""", "1:11", "", "no text in UTF-8")]
    [InlineData("""{ "log": { "level": true } }""", "1:12", "log:level", "'True' is none of debug, information, warning, error")]
    [InlineData("""{ "sinks": { "phone": { "url": "https://example.org" } }, "desks": { "a": { "plan": "x" } } }""", "1:14", "sinks:phone", "it does not say how to tell")]
    [InlineData("""{ "sinks": { "phone": { "kind": "webhok" } } }""", "1:25", "sinks:phone:kind", "did you mean 'webhook'?")]
    [InlineData("""{ "site": "a", "site": "b" }""", "1:16", "", "'site' stands here twice")]
    [InlineData("""{ "site": "a", "Site": "b" }""", "1:16", "", "'Site' stands here twice")]
    [InlineData("""{ "site": "a" """, "1:15", "", "this is not JSON")]
    [InlineData("""[ "site" ]""", "1:1", "", "settings are an object")]
    [InlineData("", "1:1", "", "this is not JSON")]
    [InlineData("{}", "1:1", "desks", "no desk is to be watched")]
    public void Fault_is_told_with_place_key_and_what_to_do(string text, string place, string key, string words)
    {
        var file = _folder.Write("watch.json", text);
        var (settings, faults) = SettingsReader.Read(file, _environment, [], []);
        Assert.Null(settings);
        var fault = Assert.Single(faults);
        Assert.Equal(($"{file}:{place}", key), (fault.At, fault.Key));
        Assert.Contains(words, fault.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Fault_in_a_variable_names_the_variable()
    {
        _environment["STATEWATCH_log__level"] = "loud";
        _environment["STATEWATCH_sitte"] = "x";
        var (_, faults) = SettingsReader.Read(_folder.Write("watch.json", OneDesk), _environment, [], []);
        Assert.Equal(
            ["environment STATEWATCH_log__level: log:level: 'loud' is none of debug, information, warning, error", "environment STATEWATCH_sitte: sitte: there is no key 'sitte' here; did you mean 'site'?"],
            faults.Select(fault => fault.ToString()).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Variable_with_a_secret_is_no_setting()
    {
        _environment["STATEWATCH_HOOK_KEY"] = "whsec_x";
        Good("""{ "desks": { "a": { "plan": "x" } }, "sinks": { "phone": { "kind": "webhook", "url": "https://example.org", "secretVariable": "STATEWATCH_HOOK_KEY" } } }""");
    }

    [Fact]
    public void All_faults_are_told_at_once()
    {
        var (_, faults) = SettingsReader.Read(_folder.Write("watch.json", """{ "sitte": "x", "log": { "level": "loud", "files": -1 } }"""), _environment, [], []);
        Assert.Equal(["log:files", "log:level", "sitte"], faults.Select(fault => fault.Key).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Keys_and_what_is_bound_are_the_same()
    {
        var bound = new SortedSet<string>(Keys(typeof(WatchDocument), ""), StringComparer.OrdinalIgnoreCase);
        bound.Remove("sinks:*:name");
        Assert.Equal(bound, new SortedSet<string>(SettingsKeys.All.Select(key => key.Path).Where(path => path is not ("desks:*" or "sinks:*")), StringComparer.OrdinalIgnoreCase));
    }

    [Fact]
    public void File_that_is_no_UTF8_is_refused_with_a_place()
    {
        // "Größe" as Latin-1 has it.
        File.WriteAllBytes(_folder.PathOf("watch.json"), [.. "{ \"site\": \"Gr"u8, 0xF6, 0xDF, .. "e\" }"u8]);
        var (settings, faults) = SettingsReader.Read(_folder.PathOf("watch.json"), new Hashtable(), [], []);
        Assert.Null(settings);
        Assert.Equal("1:11", Assert.Single(faults).At.Split(':', 2)[^1]);
    }

    [Theory]
    [InlineData("shows/", "shows")]
    [InlineData("/", "desk")]
    [InlineData("a", "a")]
    [InlineData("shows/weekly.plan.yaml", "weekly")]
    [InlineData(".plan.yaml", "-plan")]
    public void Desk_is_called_by_its_plan(string plan, string name) => Assert.Equal(name, SettingsReader.NameOf(plan));

    [Fact]
    public void File_of_far_too_many_keys_is_refused_with_a_place()
    {
        var text = "{ \"sinks\": {\n" + string.Join(",\n", Enumerable.Range(0, 20_000).Select(i => $"\"s{i}\": {{}}")) + "} }";
        var file = _folder.Write("watch.json", text);
        var (_, faults) = SettingsReader.Read(file, _environment, ["x.plan.yaml"], []);
        Assert.StartsWith($"{file}:200", Assert.Single(faults).At, StringComparison.Ordinal);
    }

    private static IEnumerable<string> Keys(Type type, string above)
    {
        foreach (var property in type.GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            var path = above + char.ToLowerInvariant(property.Name[0]) + property.Name[1..];
            var kind = property.PropertyType;
            if (kind == typeof(string))
                yield return path;
            else if (kind == typeof(IList<string>))
                yield return path + ":*";
            else
            {
                var isNamed = kind.IsGenericType && kind.GetGenericTypeDefinition() == typeof(Dictionary<,>);
                foreach (var below in isNamed ? Keys(kind.GetGenericArguments()[1], path + ":*:") : Keys(kind, path + ":"))
                    yield return below;
            }
        }
    }

    private WatchSettings Good(string text)
    {
        var (settings, faults) = SettingsReader.Read(_folder.Write("watch.json", text), _environment, [], []);
        Assert.Equal([], faults.Select(fault => fault.ToString()));
        return settings!;
    }
}
