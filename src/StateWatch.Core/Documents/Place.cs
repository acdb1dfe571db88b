namespace StateWatch.Core.Documents;

/// <summary>A place in a file; line and column count from 1. The default value means "the file as a whole".</summary>
/// <param name="Line">Line, from 1; 0 for the whole file.</param>
/// <param name="Column">Column in characters, from 1; 0 for the whole line.</param>
public readonly record struct Place(int Line, int Column)
{
    /// <summary>Writes <c>line:column</c>.</summary>
    public override string ToString() => $"{Line}:{Column}";
}

/// <summary>A place in a named file: where a statement of a plan or profile stands.</summary>
/// <param name="File">File name as the user gave it.</param>
/// <param name="Place">Line and column.</param>
public readonly record struct Origin(string File, Place Place)
{
    /// <summary>Writes <c>file:line:column</c>.</summary>
    public override string ToString() => $"{File}:{Place}";
}
