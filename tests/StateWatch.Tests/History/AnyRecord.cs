using System.Reflection;

namespace StateWatch.Tests.History;

/// <summary>Makes records of any type filled with anything at all, through their constructors and init properties.</summary>
internal sealed class AnyRecord(Random random)
{
    private static readonly string[] Texts = ["", "a", "hall/desk/drift:input/1/on", "Ünïcode \u2192 \U0001F3A4", "\0\u0001\u007F\"\\<>&'", "half \uFFFD", "-inf dB"];
    private static readonly double[] Numbers = [0, -0.0, 1, -12.345678901234567, double.Epsilon, double.MaxValue, double.PositiveInfinity, double.NegativeInfinity, double.NaN];

    public T Of<T>() => (T)Of(typeof(T), 0)!;

    private object? Of(Type type, int depth)
    {
        if (Nullable.GetUnderlyingType(type) is { } inner)
            return random.Next(3) == 0 ? null : Of(inner, depth);
        if (type.IsEnum)
            return EnumOf(type);
        if (type == typeof(string))
            return Texts[random.Next(Texts.Length)];
        if (type == typeof(bool))
            return random.Next(2) == 0;
        if (type == typeof(int))
            return random.Next(4) == 0 ? int.MinValue : random.Next();
        if (type == typeof(long))
            return random.Next(4) == 0 ? long.MaxValue : random.NextInt64();
        if (type == typeof(double))
            return random.Next(2) == 0 ? Numbers[random.Next(Numbers.Length)] : random.NextDouble() * 100;
        if (type == typeof(TimeSpan))
            return random.Next(5) == 0 ? TimeSpan.MaxValue : TimeSpan.FromTicks(random.NextInt64(-1_000_000_000_000, 10_000_000_000_000));
        if (type == typeof(DateTimeOffset))
            return new DateTimeOffset(random.NextInt64(DateTime.UnixEpoch.Ticks, DateTime.MaxValue.Ticks - TimeSpan.TicksPerDay), TimeSpan.FromMinutes(random.Next(-840, 841)));
        if (type.IsGenericType && type.IsAssignableFrom(typeof(List<>).MakeGenericType(type.GenericTypeArguments[0])))
            return ListOf(type.GenericTypeArguments[0], depth);
        return RecordOf(type, depth);
    }

    private object EnumOf(Type type)
    {
        var values = Enum.GetValues(type);
        if (type.GetCustomAttribute<FlagsAttribute>() is null)
            return values.GetValue(random.Next(values.Length))!;
        var all = 0;
        foreach (var value in values)
            all |= random.Next(2) == 0 ? Convert.ToInt32(value) : 0;
        return Enum.ToObject(type, all);
    }

    private Array ListOf(Type item, int depth)
    {
        var items = Array.CreateInstance(item, depth > 4 ? 0 : random.Next(4));
        for (var i = 0; i < items.Length; i++)
            items.SetValue(Of(item, depth + 1), i);
        return items;
    }

    private object RecordOf(Type type, int depth)
    {
        var constructor = type.GetConstructors().OrderByDescending(static one => one.GetParameters().Length).First();
        var record = constructor.Invoke([.. constructor.GetParameters().Select(parameter => Missing(parameter, depth) ? null : Of(parameter.ParameterType, depth + 1))]);
        var context = new NullabilityInfoContext();
        foreach (var property in type.GetProperties().Where(static property => property.SetMethod is not null))
        {
            var mayMiss = !property.PropertyType.IsValueType && context.Create(property).WriteState == NullabilityState.Nullable;
            property.SetValue(record, mayMiss && random.Next(3) == 0 ? null : Of(property.PropertyType, depth + 1));
        }

        return record;
    }

    private bool Missing(ParameterInfo parameter, int depth) =>
        !parameter.ParameterType.IsValueType && new NullabilityInfoContext().Create(parameter).WriteState == NullabilityState.Nullable && (depth > 4 || random.Next(3) == 0);
}
