using System.Globalization;
using System.Text;
using System.Xml;

namespace StateWatch.Core.Reports;

/// <summary>
/// Writes a sweep as JUnit XML, in the shape of the schema of Apache Ant's JUnit task, for programs that show test results. An urgent finding
/// or a warning is a failure, a notice a passed case, what was not seen or could not be judged an error. The same result always gives the same bytes.
/// </summary>
public static class SweepJunit
{
    private static readonly XmlWriterSettings Settings = new()
    {
        Encoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false),
        Indent = true,
        NewLineChars = "\n",
        NewLineHandling = NewLineHandling.None,
    };

    /// <summary>The document as text, ending with a line break.</summary>
    public static string Write(SweepResult result)
    {
        using var stream = new MemoryStream();
        using (var xml = XmlWriter.Create(stream, Settings))
            WriteRoot(xml, result);
        return Encoding.UTF8.GetString(stream.GetBuffer(), 0, (int)stream.Length) + "\n";
    }

    private static void WriteRoot(XmlWriter xml, SweepResult result)
    {
        xml.WriteStartDocument();
        xml.WriteStartElement("testsuites");
        var id = 0;
        foreach (var suite in JunitSuites.Of(result))
            WriteSuite(xml, result.Subject, suite, id++);
        xml.WriteEndElement();
        xml.WriteEndDocument();
    }

    private static void WriteSuite(XmlWriter xml, SweepSubject subject, JunitSuite suite, int id)
    {
        xml.WriteStartElement("testsuite");
        WriteAttribute(xml, "name", suite.Name);
        WriteAttribute(xml, "package", "statewatch");
        WriteAttribute(xml, "id", Number(id));
        // This format's times carry no zone; they are UTC.
        WriteAttribute(xml, "timestamp", subject.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture));
        WriteAttribute(xml, "hostname", Host(subject.DeskAddress));
        WriteAttribute(xml, "tests", Number(suite.Cases.Count));
        WriteAttribute(xml, "failures", Number(suite.Count(JunitOutcome.Failure)));
        WriteAttribute(xml, "errors", Number(suite.Count(JunitOutcome.Error)));
        WriteAttribute(xml, "skipped", Number(suite.Count(JunitOutcome.Skipped)));
        WriteAttribute(xml, "time", suite.Time.TotalSeconds.ToString("0.000", CultureInfo.InvariantCulture));
        xml.WriteStartElement("properties");
        foreach (var (name, value) in suite.Properties)
        {
            xml.WriteStartElement("property");
            WriteAttribute(xml, "name", name);
            WriteAttribute(xml, "value", value);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        foreach (var item in suite.Cases)
            WriteCase(xml, suite.Name, item);
        xml.WriteElementString("system-out", Clean(suite.Out));
        xml.WriteElementString("system-err", "");
        xml.WriteEndElement();
    }

    private static void WriteCase(XmlWriter xml, string suite, JunitCase item)
    {
        xml.WriteStartElement("testcase");
        WriteAttribute(xml, "classname", "statewatch." + suite);
        WriteAttribute(xml, "name", item.Name);
        // Everything is read at once, so no case has a time of its own.
        WriteAttribute(xml, "time", "0");
        if (item.Outcome != JunitOutcome.Passed)
        {
            xml.WriteStartElement(item.Outcome.ToString().ToLowerInvariant());
            if (item.Outcome != JunitOutcome.Skipped)
                WriteAttribute(xml, "type", item.Type);
            WriteAttribute(xml, "message", item.Message);
            xml.WriteString(Clean(item.Text));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void WriteAttribute(XmlWriter xml, string name, string value) => xml.WriteAttributeString(name, PlainText.Clean(value));

    // XML 1.0 has no way to write most control characters, and a viewer may be a terminal.
    private static string Clean(string text) => string.Join('\n', text.Split('\n').Select(line => PlainText.Clean(line)));

    private static string Host(string address) => Profiles.HostAndPort.TryParse(address, out var host, out _) ? host : address;

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
