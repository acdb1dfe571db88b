using System.Buffers;

namespace StateWatch.Protocol.Osc;

/// <summary>Which bytes addresses may hold (OSC 1.0, "OSC Methods and OSC Containers").</summary>
internal static class OscAddressCharacters
{
    /// <summary>Printable ASCII without space and <c># * , / ? [ ] { }</c>.</summary>
    private const string NameCharacters =
        "!\"$%&'()+-.0123456789:;<=>@ABCDEFGHIJKLMNOPQRSTUVWXYZ\\^_`abcdefghijklmnopqrstuvwxyz|~";

    public static readonly SearchValues<byte> NamesAndSlash = SearchValues.Create(Bytes(NameCharacters + "/"));

    public static readonly SearchValues<byte> Wildcards = SearchValues.Create("?*[]{}"u8);

    private static readonly SearchValues<byte> Names = SearchValues.Create(Bytes(NameCharacters));

    /// <summary>Whether a name may hold the byte.</summary>
    public static bool InName(byte value) => Names.Contains(value);

    private static byte[] Bytes(string text) => System.Text.Encoding.ASCII.GetBytes(text);
}
