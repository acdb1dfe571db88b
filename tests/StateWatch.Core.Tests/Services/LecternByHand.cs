using System.Globalization;

namespace StateWatch.Core.Tests.Services;

/// <summary>
/// How far the weekly show's lectern is from feedback by the room, added up fader by fader: its plan says that the loop rings at a gain of
/// 45 dB. The simulated crew has no ears and pushes faders on into a howl; who tells that tells the truth.
/// </summary>
internal static class LecternByHand
{
    public const string Finding = "feedback-margin:input/29>main/1";

    private const double Loss = 45;

    /// <summary>Margin in dB, as it will be when somebody opens it: faders count from 0 dB up.</summary>
    public static double Margin(ServiceDesk desk)
    {
        // Without a socket, as where somebody took it away, there is no loop.
        if (desk.Text("input/29/source").Split(' ') is not { Length: 2 } source)
            return double.PositiveInfinity;
        var gain = double.Parse(desk.Text($"socket/{source[0]}-{source[1]}/gain").Split(' ')[0], CultureInfo.InvariantCulture);
        var dcas = Enumerable.Range(1, 8).Where(dca => desk.IsOn($"input/29/dca/{dca}")).Select(dca => $"dca/{dca}");
        var faders = dcas.Concat(["input/29", "group/1", "main/1"]).Sum(strip => Math.Max(0, desk.Number($"{strip}/fader")));
        return Loss - gain - desk.Number("input/29/trim") - faders;
    }
}
