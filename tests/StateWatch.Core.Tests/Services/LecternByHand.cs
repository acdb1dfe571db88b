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
        var source = desk.Text("input/29/source").Split(' ');
        var gain = double.Parse(desk.Text($"socket/{source[0]}-{source[1]}/gain").Split(' ')[0], CultureInfo.InvariantCulture);
        var faders = ((string[])["input/29", "group/1", "main/1", "dca/1"]).Sum(strip => Math.Max(0, desk.Number($"{strip}/fader")));
        return Loss - gain - desk.Number("input/29/trim") - faders;
    }
}
