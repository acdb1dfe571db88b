using System.Numerics;
using System.Text;
using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

public class OscAddressTableTests
{
    [Fact]
    public void Twenty_thousand_addresses_are_found_and_their_neighbours_are_not()
    {
        var addresses = Enumerable.Range(0, 20_000).Select(i => $"/lane/{i / 100:00}/pour/{i % 100}/height").ToList();
        var table = Table(addresses);
        Assert.Equal(20_000, table.Count);
        for (var id = 0; id < addresses.Count; id++)
        {
            Assert.Equal(id, Find(table, addresses[id]));
            Assert.Equal(-1, Find(table, addresses[id] + "x"));
            Assert.Equal(-1, Find(table, addresses[id][..^1]));
        }
    }

    [Fact]
    public void Addresses_that_no_displacement_parts_are_found_all_the_same()
    {
        // Sixteen bytes, of which the first eight alone decide one hash: two beginnings with the same hash are found by trying (birthday).
        var seen = new Dictionary<uint, string>();
        string? one = null, other = null;
        var random = new Random(TestSeed.Value);
        while (one is null)
        {
            var start = "/" + string.Concat(Enumerable.Range(0, 7).Select(_ => (char)random.Next('0', 'z')));
            var word = BitConverter.ToUInt64(Encoding.ASCII.GetBytes(start));
            var hash = BitOperations.Crc32C(BitOperations.Crc32C(0, word), word);
            if (!seen.TryAdd(hash, start) && seen[hash] != start)
                (one, other) = (start, seen[hash]);
        }

        var table = Table([one + "/alike/x", "/something/else", other + "/alike/x"]);
        Assert.Equal(0, Find(table, one + "/alike/x"));
        Assert.Equal(2, Find(table, other + "/alike/x"));
        Assert.Equal(-1, Find(table, other + "/alike/y"));
    }

    [Fact]
    public void Addresses_of_every_length_are_told_apart_by_every_byte()
    {
        var addresses = new List<string>();
        for (var length = 1; length <= 100; length++)
        {
            var plain = "/" + new string('a', length - 1);
            addresses.Add(plain);
            for (var at = 1; at < length; at++)
                addresses.Add(plain[..at] + 'b' + plain[(at + 1)..]);
        }

        var table = Table(addresses);
        for (var id = 0; id < addresses.Count; id++)
            Assert.Equal(id, Find(table, addresses[id]));
        foreach (var address in addresses.Where(a => a.Length > 1))
            Assert.Equal(-1, Find(table, address[..^1] + 'c'));
    }

    [Fact]
    public void Nulls_count_as_bytes()
    {
        var table = Table(["/a", "/a\0", "/a\0\0", "\0/a", "", "\0"]);
        Assert.Equal(0, Find(table, "/a"));
        Assert.Equal(1, Find(table, "/a\0"));
        Assert.Equal(2, Find(table, "/a\0\0"));
        Assert.Equal(3, Find(table, "\0/a"));
        Assert.Equal(4, Find(table, ""));
        Assert.Equal(5, Find(table, "\0"));
        Assert.Equal(-1, Find(table, "\0\0"));
    }

    [Fact]
    public void Random_lookups_agree_with_a_dictionary()
    {
        var random = new Random(TestSeed.Value);
        var dictionary = new Dictionary<string, int>(StringComparer.Ordinal);
        while (dictionary.Count < 5_000)
            dictionary.TryAdd(RandomAddress(random), dictionary.Count);
        var table = Table(dictionary.Keys);
        for (var i = 0; i < 100_000; i++)
        {
            var address = RandomAddress(random);
            Assert.Equal(dictionary.GetValueOrDefault(address, -1), Find(table, address));
        }
    }

    [Fact]
    public void Address_listed_twice_is_refused_with_both_places()
    {
        var fault = Assert.Throws<ArgumentException>(() => Table(["/a", "/b", "/a"]));
        Assert.Contains("'/a' is listed twice, at index 0 and 2", fault.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => Table([new string('a', 50), new string('a', 50)]));
    }

    [Fact]
    public void Empty_table_finds_nothing()
    {
        Assert.Equal(-1, Find(Table([]), "/a"));
        Assert.Equal(-1, Find(Table([]), ""));
    }

    [Fact]
    public void Address_longer_than_all_is_not_looked_at()
    {
        var table = Table(["/a"]);
        Assert.Equal(-1, table.Find(new byte[60_000]));
    }

    private static string RandomAddress(Random random) =>
        "/" + string.Concat(Enumerable.Range(0, random.Next(1, random.Next(5) == 0 ? 40 : 6)).Select(_ => "ab"[random.Next(2)]));

    private static OscAddressTable Table(IEnumerable<string> addresses) => new([.. addresses.Select(Encoding.ASCII.GetBytes)]);

    private static int Find(OscAddressTable table, string address) => table.Find(Encoding.ASCII.GetBytes(address));
}
