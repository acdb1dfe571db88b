using System.Globalization;

namespace StateWatch.Tests.Watches.Load;

/// <summary>How long decisions took, in buckets of 10 microseconds up to 10 s. One thread writes; others read when it is at rest, or nearly right.</summary>
internal sealed class Latencies
{
    private const double PerBucket = 10;
    private readonly long[] _counts = new long[1_000_000];
    private long _most;

    public void Add(TimeSpan time)
    {
        var bucket = (int)Math.Min(_counts.Length - 1, time.TotalMicroseconds / PerBucket);
        _counts[bucket]++;
        _most = Math.Max(_most, time.Ticks);
    }

    public void Clear()
    {
        Array.Clear(_counts);
        _most = 0;
    }

    /// <summary>Of several together, in milliseconds.</summary>
    public static (long Count, double Half, double NinetyNine, double Most) Of(IReadOnlyCollection<Latencies> all)
    {
        var count = all.Sum(static one => one._counts.Sum());
        return (count, At(0.5), At(0.99), new TimeSpan(all.Max(static one => one._most)).TotalMilliseconds);

        double At(double share)
        {
            long seen = 0;
            for (var bucket = 0; bucket < all.First()._counts.Length; bucket++)
            {
                foreach (var one in all)
                    seen += one._counts[bucket];
                if (seen >= share * count)
                    return (bucket + 1) * PerBucket / 1000;
            }

            return 0;
        }
    }

    public static string Words((long Count, double Half, double NinetyNine, double Most) of) =>
        string.Create(CultureInfo.InvariantCulture, $"p50 {of.Half:0.00} ms, p99 {of.NinetyNine:0.0} ms, max {of.Most:0.0} ms of {of.Count:N0} batches");
}
