using StateWatch.Alerts;

namespace StateWatch.Tests.Alerts;

public sealed class NameHidingTests
{
    private static readonly NameHiding Hides = new(true, static () => [new("Cleo Trial", "input/3"), new("Al", "input/4"), new("Cleo Trial Junior", "input/5"), new("Input", "group/1")]);

    [Theory]
    [InlineData("Ada Example is muted", "input 12 is muted")]
    [InlineData("ADA EXAMPLE's send", "input 12's send")]
    [InlineData("Cleo Trial Junior and Cleo Trial hear input 12", "input 5 and input 3 hear group 1 12")]
    [InlineData("Al is also always muted", "input 4 is also always muted")]
    [InlineData("Cleo Trials microphone, (Cleo Trial)", "input 3s microphone, (input 3)")]
    [InlineData("nothing to hide", "nothing to hide")]
    public void Names_are_hidden_in_texts(string text, string expected) => Assert.Equal(expected, Hides.Hide(text, Some.Words));

    [Fact]
    public void What_desk_and_plan_have_as_a_name_is_hidden_too()
    {
        var words = Some.Words with { Setting = "input/12/name", Planned = "Ada Example", Live = "Dan Proof", Text = "input/12 is called Dan Proof, not Ada Example" };
        Assert.Equal("group 1/12 is called …, not input 12", Hides.Hide(words.Text, words));
        Assert.Null(Hides.Value(words.Planned, words));
        Assert.Null(Hides.Value(words.Live, words));
        Assert.Equal("pre-fader", Hides.Value("pre-fader", Some.Words));
    }

    [Fact]
    public void Who_did_something_and_what_they_wrote_is_hidden()
    {
        Assert.Null(Hides.Person("Ben Sample"));
        Assert.Equal("shelved", Hides.Reason("shelved: Ben Sample looks into it"));
        Assert.Equal("recovered", Hides.Reason("recovered"));
    }

    [Fact]
    public void Nothing_is_hidden_unless_asked_for()
    {
        Assert.Equal("Ada Example is muted", NameHiding.None.Hide("Ada Example is muted", Some.Words));
        Assert.Equal(("Ada Example", "Ben Sample"), (NameHiding.None.Name(Some.Words), NameHiding.None.Person("Ben Sample")));
    }
}
