namespace StateWatch.Tests.Watches;

/// <summary>Tests that let a whole watch live for a minute or kill it again and again: one after another, but beside others, since they wait most of the time.</summary>
[CollectionDefinition(Name)]
public sealed class WholeWatches
{
    public const string Name = "Whole watches";
}
