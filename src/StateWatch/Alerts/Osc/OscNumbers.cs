using System.Globalization;

namespace StateWatch.Alerts.Osc;

/// <summary>Numbers as they stand in settings.</summary>
internal static class OscNumbers
{
    public static bool IsNumber(string text) => TryRead(text, out _);

    public static bool TryRead(string text, out double number) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number) && double.IsFinite(number);

    /// <summary>The nearest whole number that 32 bits hold.</summary>
    public static int Whole(string text) => TryRead(text, out var number) ? (int)Math.Clamp(Math.Round(number, MidpointRounding.AwayFromZero), int.MinValue, int.MaxValue) : 0;

    public static float Real(string text) => TryRead(text, out var number) ? (float)number : 0;
}
