using System.Security.Cryptography;
using System.Text;
using StateWatch.Core.Documents;

namespace StateWatch.Hosting;

/// <summary>By what a plan and its profile are known: SHA-256 of their texts, hexadecimal.</summary>
internal static class PlanFingerprint
{
    /// <summary>Of texts in the order in which they were read; one that could not be read counts as empty.</summary>
    public static string Of(IEnumerable<SourceText?> sources)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var source in sources)
        {
            // Where one text ends and the next begins is a part of it.
            hash.AppendData(Encoding.UTF8.GetBytes(source?.Text ?? ""));
            hash.AppendData([0]);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
