using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace StateWatch.Tests.Alerts;

/// <summary>An authority of the tests' own, and a certificate for this machine by it.</summary>
internal sealed class TestCertificates : IDisposable
{
    private readonly X509Certificate2 _authority;

    public TestCertificates()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var authority = new CertificateRequest("CN=Tests of a watch", key, HashAlgorithmName.SHA256);
        authority.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        authority.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(authority.PublicKey, false));
        var now = TimeProvider.System.GetUtcNow();
        _authority = authority.CreateSelfSigned(now.AddDays(-1), now.AddDays(1));

        using var own = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var server = new CertificateRequest("CN=localhost", own, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName("localhost");
        names.AddIpAddress(IPAddress.Loopback);
        server.CertificateExtensions.Add(names.Build());
        server.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        using var signed = server.Create(_authority, now.AddHours(-1), now.AddHours(12), RandomNumberGenerator.GetBytes(12));
        using var whole = signed.CopyWithPrivateKey(own);
        KeyPem = own.ExportPkcs8PrivateKeyPem();
        CertificatePem = signed.ExportCertificatePem();
        Server = X509CertificateLoader.LoadPkcs12(whole.Export(X509ContentType.Pkcs12), null);
    }

    public X509Certificate2 Server { get; }

    public string CertificatePem { get; }

    public string KeyPem { get; }

    public string AuthorityPem => _authority.ExportCertificatePem();

    public void Dispose()
    {
        Server.Dispose();
        _authority.Dispose();
    }
}
