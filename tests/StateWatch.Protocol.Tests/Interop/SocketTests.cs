namespace StateWatch.Protocol.Tests.Interop;

/// <summary>Tests on loopback sockets run one after another.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class SocketTests
{
    public const string Name = "sockets";
}
