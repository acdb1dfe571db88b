using StateWatch.Core.Profiles;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Desks;

/// <summary>
/// Who answers: compares what a desk says of itself with what the profile expects. The same answer as before costs no more than a
/// comparison of bytes and allocates nothing.
/// </summary>
internal sealed class Greeting(Identity? identity)
{
    private byte[] _last = [];
    private bool _lastIsExpected;

    /// <summary>What was said last; empty before.</summary>
    public IReadOnlyList<string> Texts { get; private set; } = [];

    /// <summary>Takes an answer to the question who it is.</summary>
    /// <param name="message">The answer.</param>
    /// <param name="isNew">Whether it differs from the one before.</param>
    /// <returns>Whether it is the expected desk's.</returns>
    public bool Take(in OscMessage message, out bool isNew)
    {
        isNew = !message.Bytes.SequenceEqual(_last);
        if (!isNew)
            return _lastIsExpected;
        _last = message.Bytes.ToArray();
        Texts = IdentityCheck.Read(message);
        _lastIsExpected = identity is null || IdentityCheck.Matches(identity, Texts);
        return _lastIsExpected;
    }
}
