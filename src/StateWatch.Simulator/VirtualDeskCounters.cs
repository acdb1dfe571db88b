namespace StateWatch.Simulator;

/// <summary>What a virtual desk was sent and what it did, since it was made.</summary>
/// <param name="Answered">Questions answered; a pattern counts once for each address it asks.</param>
/// <param name="Sets">Messages that set something, whether or not the value was new; a pattern counts once for each address.</param>
/// <param name="Withheld">Questions the desk knew and kept silent about (<see cref="VirtualDesk.Silent"/>, <see cref="VirtualDesk.Unanswered"/>).</param>
/// <param name="Unknown">Messages to addresses the desk does not have.</param>
/// <param name="Malformed">Packets and messages that are not OSC 1.0, patterns beyond <see cref="VirtualDesk.MostPatterns"/> in a
/// datagram, and messages whose arguments the address cannot take.</param>
public readonly record struct VirtualDeskCounters(long Answered, long Sets, long Withheld, long Unknown, long Malformed);
