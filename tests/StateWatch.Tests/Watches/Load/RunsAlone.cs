namespace StateWatch.Tests.Watches.Load;

/// <summary>Tests that look at the memory of the whole process: nothing runs beside them in it.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class RunsAlone
{
    public const string Name = "Runs alone";
}
