namespace StateWatch.Alerts;

/// <summary>Reads what must not stand in settings: from a file, or from an environment variable.</summary>
internal static class Secrets
{
    private const int MostBytes = 4096;

    /// <summary>Reads one.</summary>
    /// <param name="file">The file, or null.</param>
    /// <param name="variable">The variable, or null.</param>
    /// <param name="environment">Gives variables.</param>
    /// <param name="fault">What is wrong: whether it is the file's, and words that do not hold the secret; null when nothing is.</param>
    /// <returns>The secret without white space around it; null when none is asked for or something is wrong.</returns>
    public static string? Read(string? file, string? variable, Func<string, string?> environment, out (bool IsFile, string Words)? fault)
    {
        fault = null;
        if (file is not null && variable is not null)
        {
            fault = (true, "there is a variable for it too; leave one of the two out");
            return null;
        }

        if (variable is not null)
        {
            if (environment(variable)?.Trim() is { Length: > 0 } value)
                return value;
            fault = (false, $"the environment has no variable '{variable}', or it is empty; set it where the watch is started");
            return null;
        }

        return file is null ? null : FromFile(file, out fault);
    }

    private static string? FromFile(string file, out (bool IsFile, string Words)? fault)
    {
        fault = null;
        try
        {
            using var stream = File.OpenRead(file);
            var bytes = new byte[MostBytes + 1];
            var length = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
            var text = System.Text.Encoding.UTF8.GetString(bytes, 0, length).Trim();
            if (length <= MostBytes && text.Length > 0)
                return text;
            fault = (true, length > MostBytes ? $"{file} is larger than {MostBytes:N0} bytes; is it the right file?" : $"{file} is empty; put the secret into it");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            fault = (true, $"{file} cannot be read ({problem.Message}); put the secret there, readable for the user of the watch alone");
        }

        return null;
    }
}
