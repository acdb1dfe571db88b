using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Reports;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests.Documents;

/// <summary>One file that is made to hurt its reader.</summary>
/// <param name="What">What is in it.</param>
/// <param name="Kind">As what it is read.</param>
/// <param name="Code">The code of the first fault that must be told.</param>
/// <param name="Bytes">Makes it.</param>
internal sealed record HostileFile(string What, HostileKind Kind, string Code, Func<byte[]> Bytes)
{
    /// <summary>The files below that a plan extends, or nothing.</summary>
    public Func<string, byte[]>? Below { get; init; }

    /// <summary>Reads it as the program would, compiles what can be compiled, and writes the faults.</summary>
    public (DiagnosticBag Diagnostics, string Printed) Read(byte[] bytes, DeskProfile desk)
    {
        var diagnostics = new DiagnosticBag();
        var sources = new Dictionary<string, SourceText>(StringComparer.Ordinal);
        if (Open("x.yaml", bytes) is { } source)
            Compile(source, desk, diagnostics);
        return (diagnostics, DiagnosticText.Write(diagnostics, sources.GetValueOrDefault));

        SourceText? Open(string name, byte[] content)
        {
            var text = SourceText.FromBytes(name, content, diagnostics);
            if (text is not null)
                sources[name] = text;
            return text;
        }

        void Compile(SourceText text, DeskProfile profile, DiagnosticBag bag)
        {
            switch (Kind)
            {
                case HostileKind.Profile:
                    _ = ProfileReader.Read(text, bag);
                    break;
                case HostileKind.Incidents:
                    _ = IncidentReader.Read(text, profile, bag);
                    break;
                default:
                    if (PlanReader.Read(text, bag, Below is null ? null : path => Open(path.Text, Below(path.Text))) is { } document)
                        _ = PlanCompiler.Compile(document, profile, Phase.Doors, bag, auditPlan: true);
                    break;
            }
        }
    }

    /// <inheritdoc/>
    public override string ToString() => What;
}

/// <summary>As what a file is read.</summary>
internal enum HostileKind
{
    Plan,
    Profile,
    Incidents,
}
