using System.Text;

namespace StateWatch.Core.Reports;

/// <summary>
/// A page of text of limited width with hanging indents. Everything put on it is cleaned first; colour, where allowed, is added after.
/// </summary>
internal sealed class TextPage(int width, bool colour = false)
{
    private readonly StringBuilder _text = new();

    /// <summary>How many lines there are so far.</summary>
    public int Lines { get; private set; }

    /// <summary>Widest line, in characters.</summary>
    public int Width { get; } = Math.Max(width, 40);

    /// <summary>Adds a text, broken at spaces.</summary>
    /// <param name="text">The text.</param>
    /// <param name="lead">Stands before its first line.</param>
    /// <param name="hang">How far the other lines are indented, in characters.</param>
    /// <param name="tint">Colour for the first word of the lead, where colour is allowed.</param>
    public void Add(string text, string lead = "", int hang = 0, Tint tint = Tint.None)
    {
        foreach (var line in Wrap(text, lead, hang, Width))
        {
            _text.Append(tint == Tint.None || !colour ? line : tint.Paint(line)).Append('\n');
            tint = Tint.None;
            Lines++;
        }
    }

    /// <summary>Adds an empty line.</summary>
    public void Blank()
    {
        _text.Append('\n');
        Lines++;
    }

    /// <inheritdoc/>
    public override string ToString() => _text.ToString();

    /// <summary>How many lines a text takes.</summary>
    public int Count(string text, string lead = "", int hang = 0) => Wrap(text, lead, hang, Width).Count;

    private static List<string> Wrap(string text, string lead, int hang, int width)
    {
        var lines = new List<string>();
        var line = new StringBuilder(lead);
        var bare = true;
        foreach (var word in PlainText.Clean(text).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!bare && line.Length + 1 + word.Length > width)
                Break();
            if (!bare)
                line.Append(' ');
            bare = false;
            var rest = word.AsSpan();
            while (line.Length + rest.Length > width)
            {
                var room = width - line.Length;
                if (char.IsHighSurrogate(rest[room - 1]))
                    room--;
                line.Append(rest[..room]);
                rest = rest[room..];
                Break();
                bare = false;
            }

            line.Append(rest);
        }

        lines.Add(line.ToString().TrimEnd());
        return lines;

        void Break()
        {
            lines.Add(line.ToString().TrimEnd());
            line.Clear().Append(' ', hang);
            bare = true;
        }
    }
}

/// <summary>Colours for a terminal. Nothing is told by them alone.</summary>
internal enum Tint
{
    /// <summary>As it is.</summary>
    None,

    /// <summary>Bold.</summary>
    Strong,

    /// <summary>Bold red.</summary>
    Urgent,

    /// <summary>Yellow.</summary>
    Warning,

    /// <summary>Bold green.</summary>
    Good,
}

/// <summary>Select Graphic Rendition codes of ECMA-48, section 8.3.117.</summary>
internal static class Tints
{
    /// <summary>Puts a line in colour.</summary>
    public static string Paint(this Tint tint, string line) => $"\x1b[{Code(tint)}m{line}\x1b[0m";

    private static string Code(Tint tint) => tint switch
    {
        Tint.Strong => "1",
        Tint.Urgent => "1;31",
        Tint.Warning => "33",
        Tint.Good => "1;32",
        _ => "0",
    };
}
