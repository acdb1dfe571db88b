namespace StateWatch.Tests.Links;

/// <summary>Tests that use sockets run one after another, beside others that use none, on loopback, on ports the system gives.</summary>
[CollectionDefinition(Name)]
public sealed class SocketsGroup
{
    public const string Name = "Sockets";
}
