using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>A set of changes that opens a way, each of one setting.</summary>
/// <param name="Changes">The settings with the values that would open them, by setting id.</param>
/// <param name="OpensBesides">How many other pairs of strip and feed these changes would open as well.</param>
/// <param name="Exact">Whether every possibility was looked at; if not it is only the smallest that was found.</param>
public sealed record Opening(IReadOnlyList<(int Setting, SettingValue Value)> Changes, int OpensBesides, bool Exact);
