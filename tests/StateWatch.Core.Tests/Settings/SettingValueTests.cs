using System.Runtime.CompilerServices;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Tests.Settings;

public class SettingValueTests
{
    [Fact]
    public void Value_is_sixteen_bytes() => Assert.Equal(16, Unsafe.SizeOf<SettingValue>());

    [Fact]
    public void Values_on_a_grid_are_equal_by_step()
    {
        Assert.Equal(SettingValue.Level(-10.0, 5), SettingValue.Level(-10.000001, 5));
        Assert.NotEqual(SettingValue.Level(-10.0, 5), SettingValue.Level(-10.0, 6));
        Assert.Equal(SettingValue.Level(-10.0, 5).GetHashCode(), SettingValue.Level(-10.000001, 5).GetHashCode());
    }

    [Fact]
    public void Values_without_a_grid_are_equal_by_number()
    {
        Assert.Equal(SettingValue.Level(double.NegativeInfinity), SettingValue.Level(double.NegativeInfinity));
        Assert.NotEqual(SettingValue.Level(-10), SettingValue.Level(-10.1));
        Assert.NotEqual(SettingValue.OfNumber(5, Unit.Millisecond), SettingValue.OfNumber(5, Unit.Hertz));
        Assert.NotEqual(SettingValue.OfNumber(5, Unit.Decibel), SettingValue.Level(5));
    }

    [Fact]
    public void Kinds_are_never_equal()
    {
        SettingValue[] values = [default, SettingValue.Switch(false), SettingValue.Choice(0), SettingValue.Text(0), SettingValue.Point(0), SettingValue.Level(0), SettingValue.OfNumber(0, Unit.None)];
        for (var i = 0; i < values.Length; i++)
        {
            for (var j = 0; j < values.Length; j++)
                Assert.Equal(i == j, values[i] == values[j]);
        }
    }

    [Fact]
    public void Only_a_switch_is_on()
    {
        Assert.True(SettingValue.Switch(true).IsOn);
        Assert.False(SettingValue.Choice(1).IsOn);
        Assert.False(SettingValue.Level(0, 1).IsOn);
        Assert.False(default(SettingValue).HasValue);
    }

    [Fact]
    public void Pool_gives_each_text_one_number_and_is_bounded()
    {
        var pool = new TextPool();
        Assert.Equal(0, pool.Intern(""));
        Assert.Equal(pool.Intern("Kick"), pool.Intern("Kick"u8));
        Assert.NotEqual(pool.Intern("Kick"), pool.Intern("kick"));
        Assert.Equal(-1, pool.Intern(new string('x', TextPool.LongestText + 1)));
        for (var i = 0; pool.Count < TextPool.Capacity; i++)
            _ = pool.Intern($"text {i}");
        Assert.Equal(-1, pool.Intern("one more"));
        Assert.Equal("Kick", pool[pool.Intern("Kick")]);
    }

    [Theory]
    [InlineData("1", 1, 1)]
    [InlineData("9999", 9999, 9999)]
    [InlineData("3-17", 3, 17)]
    [InlineData("5-5", 5, 5)]
    public void Range_is_read(string text, int first, int last)
    {
        Assert.True(NumberRange.TryParse(text, out var from, out var to));
        Assert.Equal((first, last), (from, to));
    }

    [Theory]
    [InlineData("")]
    [InlineData("0")]
    [InlineData("10000")]
    [InlineData("5-4")]
    [InlineData("1-2-3")]
    [InlineData("1 - 2")]
    [InlineData("-3")]
    [InlineData("3-")]
    public void Anything_else_is_no_range(string text) => Assert.False(NumberRange.TryParse(text, out _, out _));

    [Theory]
    [InlineData("input/#/send/mix/#/tap", SettingClass.Taps)]
    [InlineData("input/#/send/matrix/#/level", SettingClass.Levels)]
    [InlineData("group/#/assign/main/#", SettingClass.Routing)]
    [InlineData("input/#/source", SettingClass.Patch)]
    [InlineData("input/#/trim", SettingClass.Preamp)]
    [InlineData("socket/stage-#/phantom", SettingClass.Preamp)]
    [InlineData("output/usb-#/limiter/in", SettingClass.Processing)]
    [InlineData("mute-group/#/active", SettingClass.Mutes)]
    [InlineData("fx-return/#/on", SettingClass.Mutes)]
    [InlineData("input/#/insert/#/in", SettingClass.Inserts)]
    [InlineData("input/#/dca/#", SettingClass.Grouping)]
    [InlineData("input/#/recall-safe", SettingClass.Surface)]
    [InlineData("desk/talk/#/to/mix-#", SettingClass.Routing)]
    [InlineData("desk/talk/#/on", SettingClass.Health)]
    [InlineData("desk/box/#/leg/#", SettingClass.Health)]
    [InlineData("dca/#/name", SettingClass.Labels)]
    public void Every_setting_has_its_class(string shape, SettingClass settingClass) => Assert.Equal(settingClass, SettingCatalogue.Find(shape)?.Class);

    [Theory]
    [InlineData("input/#")]
    [InlineData("input/name")]
    [InlineData("mix/#/source")]
    [InlineData("dca/#/pan")]
    [InlineData("socket/#/gain")]
    [InlineData("input/#/send/dca/#/on")]
    [InlineData("input/#/send/mix/#")]
    [InlineData("desk/#/name")]
    [InlineData("output/stage-#/gain")]
    [InlineData("")]
    public void Anything_else_is_no_setting(string shape) => Assert.Null(SettingCatalogue.Find(shape));
}
