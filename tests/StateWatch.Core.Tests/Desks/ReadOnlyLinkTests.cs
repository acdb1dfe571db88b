using System.Reflection;
using StateWatch.Core.Links;

namespace StateWatch.Core.Tests.Desks;

/// <summary>What follows a desk has no way to set anything on it.</summary>
public class ReadOnlyLinkTests
{
    /// <summary>Everything that may be handed in through the link: a question's number, a deadline, who takes the answers, and what those are handed.</summary>
    private static readonly HashSet<string> Accepted = ["Boolean Ask(Int32 question)", "Int32 Receive(Int64 deadline, IDatagramReceiver receiver)"];

    [Fact]
    public void Link_takes_nothing_but_a_question_and_a_deadline()
    {
        Assert.Equal(Accepted.Order(StringComparer.Ordinal), Methods(typeof(IDeskReader)).Where(method => method.GetParameters().Length > 0).Select(Write).Order(StringComparer.Ordinal));
        Assert.DoesNotContain(typeof(IDeskReader).GetProperties(), property => property.CanWrite);
        Assert.DoesNotContain(typeof(IDeskReader).GetInterfaces(), face => face != typeof(IDisposable));
    }

    [Fact]
    public void Nothing_reachable_from_the_link_accepts_a_value()
    {
        var reached = new HashSet<Type>();
        var offenders = new List<string>();
        Reach(typeof(IDeskReader), reached, offenders);
        Assert.Empty(offenders);
        // What the link gives out and takes: if this list grows, think about what the new type lets a session do.
        Assert.Equal(["IDatagramReceiver", "IDeskReader", "LinkCounters"], reached.Select(type => type.Name).Order(StringComparer.Ordinal));
    }

    private static void Reach(Type type, HashSet<Type> reached, List<string> offenders)
    {
        if (type.HasElementType)
            type = type.GetElementType()!;
        foreach (var argument in type.GetGenericArguments())
            Reach(argument, reached, offenders);
        if (!type.Assembly.GetName().Name!.StartsWith("StateWatch", StringComparison.Ordinal) || !reached.Add(type))
            return;
        foreach (var property in type.GetProperties())
        {
            Reach(property.PropertyType, reached, offenders);
            if (property.SetMethod is { } setter && !setter.ReturnParameter.GetRequiredCustomModifiers().Any(modifier => modifier.Name == "IsExternalInit"))
                offenders.Add($"{type.Name}.{property.Name} can be set");
        }

        foreach (var method in Methods(type))
        {
            Reach(method.ReturnType, reached, offenders);
            foreach (var parameter in method.GetParameters())
            {
                Reach(parameter.ParameterType, reached, offenders);
                if (!IsHarmless(type, method, parameter))
                    offenders.Add($"{type.Name}: {Write(method)}");
            }
        }
    }

    // Bytes go to the receiver, which the session itself is: they come from the desk.
    private static bool IsHarmless(Type type, MethodInfo method, ParameterInfo parameter) =>
        Accepted.Contains(Write(method))
        || type == typeof(IDatagramReceiver)
        || (type.IsValueType && method.Name is "Equals" or "PrintMembers" or "op_Equality" or "op_Inequality" or "Deconstruct" && (parameter.ParameterType == type || parameter.IsOut || parameter.ParameterType == typeof(object)));

    private static IEnumerable<MethodInfo> Methods(Type type) =>
        type.GetMethods(BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static).Where(method => !method.IsSpecialName || method.Name.StartsWith("op_", StringComparison.Ordinal));

    private static string Write(MethodInfo method) =>
        $"{method.ReturnType.Name} {method.Name}({string.Join(", ", method.GetParameters().Select(parameter => $"{parameter.ParameterType.Name} {parameter.Name}"))})";
}
