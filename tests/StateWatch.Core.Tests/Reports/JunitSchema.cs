using System.Xml;
using System.Xml.Linq;
using System.Xml.Schema;

namespace StateWatch.Core.Tests.Reports;

/// <summary>
/// What the JUnit schema of Apache Ant asks for: a root of suites; the suites' attributes, package and id included; children in the order
/// properties, cases, system-out, system-err; at most one of skipped, error and failure in a case; type required, message optional.
/// That skipped may have a message is from memory.
/// </summary>
internal static class JunitSchema
{
    private const string Text = """
        <xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" elementFormDefault="qualified">
          <xs:simpleType name="timestamp"><xs:restriction base="xs:dateTime"><xs:pattern value="[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}"/></xs:restriction></xs:simpleType>
          <xs:simpleType name="word"><xs:restriction base="xs:token"><xs:minLength value="1"/></xs:restriction></xs:simpleType>
          <xs:complexType name="problem" mixed="true"><xs:attribute name="type" type="xs:string" use="required"/><xs:attribute name="message" type="xs:string"/></xs:complexType>
          <xs:complexType name="skip" mixed="true"><xs:attribute name="message" type="xs:string"/></xs:complexType>
          <xs:element name="testsuites"><xs:complexType><xs:sequence><xs:element name="testsuite" minOccurs="0" maxOccurs="unbounded"><xs:complexType>
            <xs:sequence>
              <xs:element name="properties"><xs:complexType><xs:sequence><xs:element name="property" minOccurs="0" maxOccurs="unbounded"><xs:complexType>
                <xs:attribute name="name" type="word" use="required"/><xs:attribute name="value" type="xs:string" use="required"/>
              </xs:complexType></xs:element></xs:sequence></xs:complexType></xs:element>
              <xs:element name="testcase" minOccurs="0" maxOccurs="unbounded"><xs:complexType>
                <xs:choice minOccurs="0">
                  <xs:element name="skipped" type="skip"/><xs:element name="error" type="problem"/><xs:element name="failure" type="problem"/>
                </xs:choice>
                <xs:attribute name="name" type="word" use="required"/><xs:attribute name="classname" type="word" use="required"/><xs:attribute name="time" type="xs:decimal" use="required"/>
              </xs:complexType></xs:element>
              <xs:element name="system-out" type="xs:string"/>
              <xs:element name="system-err" type="xs:string"/>
            </xs:sequence>
            <xs:attribute name="name" type="word" use="required"/><xs:attribute name="package" type="word" use="required"/><xs:attribute name="id" type="xs:int" use="required"/>
            <xs:attribute name="timestamp" type="timestamp" use="required"/><xs:attribute name="hostname" type="word" use="required"/>
            <xs:attribute name="tests" type="xs:int" use="required"/><xs:attribute name="failures" type="xs:int" use="required"/>
            <xs:attribute name="errors" type="xs:int" use="required"/><xs:attribute name="skipped" type="xs:int"/><xs:attribute name="time" type="xs:decimal" use="required"/>
          </xs:complexType></xs:element></xs:sequence></xs:complexType></xs:element>
        </xs:schema>
        """;

    private static readonly Lazy<XmlSchemaSet> Schemas = new(() =>
    {
        var schemas = new XmlSchemaSet();
        schemas.Add(null, XmlReader.Create(new StringReader(Text)));
        schemas.Compile();
        return schemas;
    });

    /// <summary>Everything in which a document departs from the schema, and from what its counts must be.</summary>
    public static List<string> Faults(string text)
    {
        var faults = new List<string>();
        var document = XDocument.Parse(text);
        document.Validate(Schemas.Value, (_, fault) => faults.Add(fault.Message));
        if (document.Root!.Name != "testsuites")
            faults.Add($"the root is {document.Root.Name}");
        var place = 0;
        foreach (var suite in document.Root.Elements("testsuite"))
        {
            if ((int?)suite.Attribute("id") != place++)
                faults.Add($"suite {suite.Attribute("name")}: ids count from 0");
            foreach (var (attribute, count) in ((string, int)[])
            [
                ("tests", suite.Elements("testcase").Count()), ("failures", suite.Descendants("failure").Count()),
                ("errors", suite.Descendants("error").Count()), ("skipped", suite.Descendants("skipped").Count()),
            ])
            {
                if ((int?)suite.Attribute(attribute) != count)
                    faults.Add($"suite {suite.Attribute("name")}: {attribute} is not {count}");
            }
        }

        return faults;
    }
}
