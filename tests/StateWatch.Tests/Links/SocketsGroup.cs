namespace StateWatch.Tests.Links;

/// <summary>Tests that use sockets run one after another, on loopback, on ports the system gives.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class SocketsGroup
{
    public const string Name = "Sockets";
}
