using System.Text;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Schemas;

/// <summary>
/// Fills the tables of a reference page in Markdown: between <c>&lt;!-- keys: NAME --&gt;</c> and <c>&lt;!-- end --&gt;</c> stands what the key table of that name makes.
/// All other lines are the author's.
/// </summary>
public static class ReferencePage
{
    private const string Begin = "<!-- keys: ";
    private const string End = "<!-- end -->";

    /// <summary>Every table that a file can hold, each once, in the order in which their keys stand.</summary>
    public static IReadOnlyList<KeyTable> TablesOf(KeyTable root)
    {
        var tables = new List<KeyTable>();
        Collect(new TableShape(root), tables);
        return tables;
    }

    /// <summary>The page with its tables filled.</summary>
    /// <param name="page">The page as it is.</param>
    /// <param name="root">The root table of the kind of file it speaks of.</param>
    /// <exception cref="ArgumentException">A marker names no table of that kind of file, or has no end.</exception>
    public static string Fill(string page, KeyTable root)
    {
        var tables = TablesOf(root);
        var text = new StringBuilder();
        var inside = false;
        foreach (var line in page.TrimEnd('\n').Split('\n'))
        {
            inside &= line != End;
            if (inside)
                continue;
            text.Append(line).Append('\n');
            if (!line.StartsWith(Begin, StringComparison.Ordinal))
                continue;
            inside = true;
            var name = line[Begin.Length..^" -->".Length];
            Write(text, tables.FirstOrDefault(table => table.Name == name) ?? throw new ArgumentException($"a {root.Name} has no table '{name}'", nameof(page)));
        }

        return inside ? throw new ArgumentException($"a table has no {End}", nameof(page)) : text.ToString();
    }

    private static void Write(StringBuilder text, KeyTable table)
    {
        text.Append(table.Words).Append("\n\n| key | meaning | value | default | example |\n| --- | --- | --- | --- | --- |\n");
        foreach (var row in table.Rows)
        {
            var values = KeyText.Values(row.Shape);
            var inner = new List<KeyTable>();
            Collect(row.Shape, inner, deep: false);
            if (inner.Count > 0)
                values = $"{values}{(values.Length > 0 ? "; " : "")}{string.Join(" or ", inner.Select(one => $"[{one.Name}](#{one.Name.Replace(' ', '-')})"))}";
            text.Append($"| `{row.Key}`{(row.Required ? " (required)" : "")} | {Escape(row.Words)} | {Escape(values)} | {(row.Default is null ? "" : $"`{Escape(row.Default)}`")} | `{Escape(row.Example)}` |\n");
        }
    }

    private static string Escape(string text) => text.Replace("|", @"\|", StringComparison.Ordinal);

    private static void Collect(ValueShape shape, List<KeyTable> tables, bool deep = true)
    {
        switch (shape)
        {
            case TableShape { Table: var table } when !tables.Contains(table):
                tables.Add(table);
                foreach (var row in deep ? table.Rows : [])
                    Collect(row.Shape, tables);
                break;
            case MapShape map:
                Collect(map.Value, tables, deep);
                break;
            case ListShape list:
                Collect(list.Item, tables, deep);
                break;
            case SettingsShape { Other: { } other }:
                Collect(other, tables, deep);
                break;
            case EitherShape either:
                foreach (var one in either.Shapes)
                    Collect(one, tables, deep);
                break;
        }
    }
}
