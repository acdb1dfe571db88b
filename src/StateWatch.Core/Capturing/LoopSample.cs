namespace StateWatch.Core.Capturing;

/// <summary>What one reading says of a loop on the desk.</summary>
/// <param name="At">When it was read, from any fixed moment on.</param>
/// <param name="Gain">Gain from the microphone's socket to the feed, preamp included, in dB; -inf while the way is shut.</param>
/// <param name="Unmuted">The same as if nothing on the way were muted, in dB; -inf where a level or a switch shuts it.</param>
/// <param name="Fault">Why this reading cannot be trusted, as a sentence; null when it can.</param>
public readonly record struct LoopSample(TimeSpan At, double Gain, double Unmuted, string? Fault = null);
