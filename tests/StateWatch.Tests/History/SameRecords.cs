using System.Collections;
using System.Reflection;

namespace StateWatch.Tests.History;

/// <summary>Compares records down to the last property, lists by their items; records alone compare lists by reference.</summary>
internal static class SameRecords
{
    public static void Assert(object? expected, object? actual, string path = "it")
    {
        if (expected is null || actual is null)
        {
            Xunit.Assert.True(expected is null && actual is null, $"{path}: {expected ?? "null"} became {actual ?? "null"}");
            return;
        }

        if (expected is string || expected.GetType().IsPrimitive || expected.GetType().IsEnum || expected is TimeSpan or DateTimeOffset)
        {
            Xunit.Assert.True(expected.Equals(actual), $"{path}: {expected} became {actual}");
            return;
        }

        if (expected is IDictionary pairs)
        {
            var others = (IDictionary)actual;
            Xunit.Assert.Equal(pairs.Count, others.Count);
            foreach (var key in pairs.Keys)
                Assert(pairs[key], others[key], $"{path}[{key}]");
            return;
        }

        if (expected is IEnumerable items)
        {
            object?[] one = [.. items.Cast<object?>()], other = [.. ((IEnumerable)actual).Cast<object?>()];
            Xunit.Assert.True(one.Length == other.Length, $"{path}: {one.Length} items became {other.Length}");
            for (var i = 0; i < one.Length; i++)
                Assert(one[i], other[i], $"{path}[{i}]");
            return;
        }

        Xunit.Assert.Same(expected.GetType(), actual.GetType());
        foreach (var property in expected.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance))
            Assert(property.GetValue(expected), property.GetValue(actual), $"{path}.{property.Name}");
    }
}
