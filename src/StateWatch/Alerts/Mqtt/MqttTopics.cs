using System.Globalization;
using System.Text;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;

namespace StateWatch.Alerts.Mqtt;

/// <summary>
/// The topics of a site: <c>PREFIX/SITE/status</c>, and for each desk <c>PREFIX/SITE/DESK/state</c>, <c>…/finding/RULE:SUBJECT</c> and <c>…/event</c>. What a topic cannot hold or would part
/// levels is percent-encoded, but for the slashes of a finding's subject.
/// </summary>
internal sealed class MqttTopics(string prefix, string site)
{
    private const string FindingLevel = "/finding/";

    private readonly string _root = $"{prefix}/{Encoded(site, withSlashes: false)}/";

    /// <summary>Whether the watch is there: <c>online</c> or <c>offline</c>, retained.</summary>
    public string Status => _root + "status";

    /// <summary>All findings of the site.</summary>
    public string AllFindings => $"{_root}+{FindingLevel}#";

    /// <summary>How a desk stands, retained.</summary>
    /// <param name="desk">site/desk.</param>
    public string State(string desk) => Root(desk) + "/state";

    /// <summary>All that is told of a desk, in order, not retained.</summary>
    /// <param name="desk">site/desk.</param>
    public string Events(string desk) => Root(desk) + "/event";

    /// <summary>One finding as it stands, retained until it is cleared.</summary>
    /// <param name="key">site/desk/rule:subject.</param>
    public string Finding(string key) => FindingsOf(FindingKeys.DeskOf(key)) + Encoded(FindingKeys.IdOf(key), withSlashes: true);

    /// <summary>What the topics of a desk's findings begin with.</summary>
    /// <param name="desk">site/desk.</param>
    public string FindingsOf(string desk) => Root(desk) + FindingLevel;

    private string Root(string desk) => _root + Encoded(DeskKey.NameOf(desk), withSlashes: false);

    // MQTT 5.0 (and 3.1.1), 4.7: '+' and '#' are wildcards, '/' parts levels, U+0000 is forbidden; control characters should not be there (1.5.4).
    private static string Encoded(string text, bool withSlashes)
    {
        var encoded = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.Value is '+' or '#' or '%' || (rune.Value == '/' && !withSlashes) || Rune.IsControl(rune))
                encoded.Append(CultureInfo.InvariantCulture, $"%{rune.Value:X2}");
            else
                encoded.Append(rune.ToString());
        }

        return encoded.ToString();
    }
}
