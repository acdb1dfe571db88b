using System.Globalization;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Services;

/// <summary>A virtual desk as hands reach it: by the words on it. What a hand does to one side of a linked pair the desk does to the other.</summary>
internal sealed class ServiceDesk
{
    private readonly VirtualDesk _desk;
    private readonly DeskState _state;

    public ServiceDesk(ShowPlan atDoors)
    {
        Profile = atDoors.Profile;
        _desk = new VirtualDesk(Profile);
        _state = new DeskState(Profile);
        foreach (var (setting, value) in PlannedState.Of(atDoors))
            _desk.Set(setting, value);
    }

    public DeskProfile Profile { get; }

    public bool Has(string path) => Profile.Find(path) >= 0;

    public string Text(string path) => Profile.Format(_desk[Profile.Find(path)]);

    public double Number(string path) => _desk[Profile.Find(path)].Number;

    public bool IsOn(string path) => Has(path) && _desk[Profile.Find(path)].IsOn;

    /// <summary>Turns or presses something; a desk without it is left as it is.</summary>
    public void Set(string path, string text)
    {
        if (!Has(path))
            return;
        SetOne(path, text);
        var words = path.Split('/');
        if (words[0] is not ("input" or "group" or "mix" or "matrix") || words[2] is not ("fader" or "on" or "send" or "colour") || !IsOn($"{words[0]}/{words[1]}/linked"))
            return;
        var number = int.Parse(words[1], CultureInfo.InvariantCulture);
        words[1] = (number % 2 == 1 ? number + 1 : number - 1).ToString(CultureInfo.InvariantCulture);
        SetOne(string.Join('/', words), text);
    }

    /// <summary>Sets one thing and not what is linked to it: a fault, not a hand on a fader.</summary>
    public void SetAlone(string path, string text) => SetOne(path, text);

    public void Set(string path, bool on) => Set(path, on ? "on" : "off");

    /// <summary>Moves a level, in dB; below -60 dB it is off.</summary>
    public void Move(string path, double level) =>
        Set(path, level < -60 ? "-inf dB" : string.Create(CultureInfo.InvariantCulture, $"{Math.Min(level, 10):0.00} dB"));

    /// <summary>What a full read of this moment gives.</summary>
    public DeskState Read()
    {
        foreach (var setting in Profile.Settings)
            _state.Apply(setting.Id, _desk[setting.Id]);
        return _state;
    }

    private void SetOne(string path, string text)
    {
        var id = Profile.Find(path);
        Assert.True(id >= 0, path);
        Assert.True(Profile.Settings[id].Codec.TryParse(text, out var value, out var problem), $"{path}: {problem}");
        _desk.Set(id, value);
    }
}
