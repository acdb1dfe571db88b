namespace StateWatch.Core.Auditing;

/// <summary>Rows of numbers, one behind the other in one array.</summary>
internal sealed class CompressedRows
{
    private readonly int[] _starts;
    private readonly int[] _items;

    /// <summary>Sorts pairs into rows; within a row they keep their order.</summary>
    /// <param name="rows">How many rows there are.</param>
    /// <param name="pairs">Row and number.</param>
    public CompressedRows(int rows, List<(int Row, int Item)> pairs)
    {
        _starts = new int[rows + 1];
        _items = new int[pairs.Count];
        foreach (var (row, _) in pairs)
            _starts[row + 1]++;
        for (var row = 0; row < rows; row++)
            _starts[row + 1] += _starts[row];
        var filled = new int[rows];
        foreach (var (row, item) in pairs)
            _items[_starts[row] + filled[row]++] = item;
    }

    /// <summary>One row.</summary>
    public ReadOnlySpan<int> this[int row] => _items.AsSpan(_starts[row], _starts[row + 1] - _starts[row]);
}
