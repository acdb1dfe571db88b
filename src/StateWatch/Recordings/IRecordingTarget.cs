namespace StateWatch.Recordings;

/// <summary>Where a recording goes. One thread at a time; what fails there never comes back to whoever records.</summary>
internal interface IRecordingTarget : IDisposable
{
    /// <summary>Takes whole entries; they are safe there soon.</summary>
    void Take(ReadOnlySpan<byte> entries);
}
