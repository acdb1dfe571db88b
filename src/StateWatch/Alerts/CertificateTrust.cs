using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace StateWatch.Alerts;

/// <summary>Who may vouch for a receiver instead of those whom the system trusts. Names and times are checked as ever.</summary>
internal sealed class CertificateTrust
{
    private readonly X509Certificate2Collection _roots;

    private CertificateTrust(X509Certificate2Collection roots) => _roots = roots;

    /// <summary>Reads a PEM file.</summary>
    /// <param name="file">The file.</param>
    /// <param name="fault">What is wrong and what to do; null when nothing is.</param>
    public static CertificateTrust? Read(string file, out string? fault)
    {
        var roots = new X509Certificate2Collection();
        try
        {
            roots.ImportFromPemFile(file);
            fault = roots.Count == 0 ? $"{file} holds no certificate; it is a PEM file, with '-----BEGIN CERTIFICATE-----'" : null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or CryptographicException)
        {
            fault = $"{file} cannot be read ({problem.Message}); it is a PEM file that the user of the watch may read";
        }

        return fault is null ? new CertificateTrust(roots) : null;
    }

    /// <summary>How chains are built.</summary>
    public X509ChainPolicy Policy()
    {
        var policy = new X509ChainPolicy { TrustMode = X509ChainTrustMode.CustomRootTrust, RevocationMode = X509RevocationMode.NoCheck };
        policy.CustomTrustStore.AddRange(_roots);
        return policy;
    }

    /// <summary>Whether a certificate that was presented for the right name is vouched for.</summary>
    /// <param name="certificate">The certificate.</param>
    /// <param name="sent">What was sent with it, or null.</param>
    /// <param name="errors">What the system found wrong.</param>
    public bool Accepts(X509Certificate certificate, X509Chain? sent, SslPolicyErrors errors)
    {
        if ((errors & ~SslPolicyErrors.RemoteCertificateChainErrors) != SslPolicyErrors.None)
            return false;
        using var chain = new X509Chain { ChainPolicy = Policy() };
        if (sent is not null)
            chain.ChainPolicy.ExtraStore.AddRange(sent.ChainPolicy.ExtraStore);
        using var presented = new X509Certificate2(certificate);
        return chain.Build(presented);
    }
}
