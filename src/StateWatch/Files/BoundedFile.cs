using StateWatch.Core.Documents;

namespace StateWatch.Files;

/// <summary>
/// Reads a file that may be anything: a device without an end, a pipe that nobody writes to, a share that hangs. Never more than one byte
/// beyond the largest file that is read, and never longer than a moment.
/// </summary>
internal static class BoundedFile
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    /// <summary>The bytes; one more than <see cref="SourceText.MaxBytes"/> when there are more than that.</summary>
    /// <exception cref="IOException">It cannot be read, or nothing came in time.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be read, or is a directory.</exception>
    public static byte[] Read(string path)
    {
        var info = new FileInfo(path);
        if (Directory.Exists(path))
            throw new IOException("it is a directory");
        // What has a length is a file on a disk; pipes and devices say they are empty.
        if (info.Exists && info.Length > 0)
            return ReadBytes(path);
        var reading = Task.Run(() => ReadBytes(path));
        try
        {
            return reading.Wait(Patience) ? reading.Result : throw new IOException($"nothing came from it within {Patience.TotalSeconds:0} s; is it a pipe that nobody writes to?");
        }
        catch (AggregateException problem) when (problem.InnerException is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw problem.InnerException;
        }
    }

    /// <summary>The text of a small file, such as a secret: UTF-8, or what can be read so.</summary>
    /// <exception cref="IOException">It cannot be read, or nothing came in time.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be read.</exception>
    public static string Text(string path)
    {
        var bytes = Read(path).AsSpan();
        return System.Text.Encoding.UTF8.GetString(bytes.StartsWith("\uFEFF"u8) ? bytes[3..] : bytes);
    }

    private static byte[] ReadBytes(string path)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, bufferSize: 0);
        var size = stream.CanSeek && stream.Length > 0 ? stream.Length : 4096;
        var bytes = new byte[(int)Math.Min(size, SourceText.MaxBytes) + 1];
        var length = 0;
        for (var read = stream.Read(bytes, 0, bytes.Length); read > 0; read = stream.Read(bytes, length, bytes.Length - length))
        {
            length += read;
            if (length > SourceText.MaxBytes)
                break;
            // A file may grow, or tell no size.
            if (length == bytes.Length)
                Array.Resize(ref bytes, (int)Math.Min(2L * length, SourceText.MaxBytes + 1));
        }

        Array.Resize(ref bytes, length);
        return bytes;
    }
}
