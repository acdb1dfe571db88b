using System.Text;
using System.Text.RegularExpressions;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Reports;
using StateWatch.Links;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Sheets;

/// <summary>
/// The shipped desk profile against its hand-written protocol sheet, served by a Python peer that shares nothing with our codec.
/// </summary>
[Collection(SocketsGroup.Name)]
public sealed class ProtocolSheetTests
{
    private static readonly IReadOnlyList<SheetRow> Rows = [.. SheetRow.ReadAll().Where(row => row.Setting != "identify")];

    [Fact]
    public void The_sheet_has_at_least_forty_rows_of_many_kinds()
    {
        var profile = Profile();
        Assert.True(Rows.Count >= 40, $"{Rows.Count} rows");
        Assert.All(Rows, row => Assert.True(profile.Find(row.Setting) >= 0, $"the profile does not map {row.Setting}"));
        var kinds = Rows.Select(row => profile.Settings[profile.Find(row.Setting)].Kind.Shape).Distinct().ToList();
        Assert.True(kinds.Count >= 12, $"{kinds.Count} kinds");
    }

    [Fact]
    public async Task Every_row_of_the_sheet_is_verified_by_a_sweep()
    {
        using var peer = await SheetPeer.Start();
        var result = SweepPeer(peer, Rows.Select(row => (row.Setting, row.Value)));
        Assert.Equal([], result.Unseen);
        Assert.Equal(Rows.Count, result.Verified - BuiltIns(result));
        Assert.Equal([], result.Audit.Findings.Select(finding => $"{finding.Id} {finding.Planned} {finding.Live}"));
    }

    [Fact]
    public async Task A_wrong_value_in_an_answer_is_reported_for_that_setting_and_no_other()
    {
        // Each answer is exchanged for that of another row with the same shape of value, so that the sheet's own bytes stay the source.
        foreach (var (row, other) in Exchangeable().Take(12))
        {
            using var peer = await SheetPeer.Start($"{row.Setting}={Convert.ToHexString(other)}");
            var result = SweepPeer(peer, Rows.Where(item => item.Question.SequenceEqual(row.Question)).Select(item => (item.Setting, item.Value)));
            Assert.Contains(result.Audit.Findings, finding => finding.Setting == row.Setting);
            Assert.All(result.Audit.Findings, finding => Assert.Contains(Rows, item => item.Setting == finding.Setting && item.Question.SequenceEqual(row.Question)));
        }
    }

    [Fact]
    public async Task A_planned_value_that_the_desk_does_not_have_is_reported()
    {
        using var peer = await SheetPeer.Start();
        var level = Rows.First(row => row.Setting.EndsWith("/fader", StringComparison.Ordinal) && row.Value == "0.0 dB");
        var result = SweepPeer(peer, [(level.Setting, "-10 dB")]);
        var finding = Assert.Single(result.Audit.Findings);
        Assert.Equal(("-10.0 dB", "0.0 dB"), (finding.Planned, finding.Live));
    }

    [Fact]
    public async Task Everything_that_reaches_the_desk_is_a_question_of_the_shipped_list()
    {
        var patterns = File.ReadLines(ShippedFiles.Questions).Where(line => line.Length > 0 && line[0] != '#').Select(line => new Regex(line, RegexOptions.None, TimeSpan.FromSeconds(1))).ToList();
        using var peer = await SheetPeer.Start();
        _ = SweepPeer(peer, Rows.Select(row => (row.Setting, row.Value)));
        var datagrams = File.ReadAllLines(peer.Log);
        Assert.NotEmpty(datagrams);
        foreach (var bytes in datagrams.Select(Convert.FromHexString))
        {
            var end = Array.IndexOf(bytes, (byte)0);
            var padded = (end + 4) / 4 * 4;
            Assert.Equal([0x2C, 0, 0, 0], bytes[padded..]); // an empty type tag string and nothing more (OSC 1.0, type tags)
            Assert.Contains(patterns, pattern => pattern.IsMatch(Encoding.ASCII.GetString(bytes, 0, end)));
        }
    }

    // Pairs (row, the answer of another row) where the other answer, with the address exchanged, has the same tags and length.
    private static IEnumerable<(SheetRow Row, byte[] Answer)> Exchangeable()
    {
        foreach (var row in Rows)
        {
            var own = Body(row);
            foreach (var other in Rows)
            {
                var body = Body(other);
                if (row.Value == other.Value || body.Length != own.Length || !Tags(own).SequenceEqual(Tags(body)) || body.SequenceEqual(own)
                    || row.Setting[(row.Setting.LastIndexOf('/') + 1)..] != other.Setting[(other.Setting.LastIndexOf('/') + 1)..] || char.IsAsciiDigit(row.Setting[^1]))
                    continue;
                yield return (row, [.. row.Answer[..^own.Length], .. body]);
                break;
            }
        }
    }

    private static byte[] Body(SheetRow row) => row.Answer[(row.Question.Length - 4)..];

    private static byte[] Tags(byte[] body) => body[..(Array.IndexOf(body, (byte)0) + 1)];

    private static int BuiltIns(SweepResult result) =>
        result.Subject.Plan.Expectations.Count(item => item.Rank == Ranks.ShowDefault && Rows.All(row => row.Setting != result.Subject.Plan.Profile.Settings[item.Setting].Path));

    private static DeskProfile Profile()
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("larch-48.desk.yaml", File.ReadAllText(ShippedFiles.Desk)), diagnostics);
        Assert.Empty(diagnostics.Items);
        return profile!;
    }

    private static SweepResult SweepPeer(SheetPeer peer, IEnumerable<(string Setting, string Value)> planned)
    {
        var diagnostics = new DiagnosticBag();
        var profile = Profile();
        var text = new StringBuilder("format: statewatch/show/1\nshow: Sheet\ndesk: larch-48.desk.yaml\nsettings:\n");
        foreach (var (setting, value) in planned)
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"  \"{setting}\": \"{value}\"\n");
        // What every show wants is not in every sheet: these are not under test here.
        foreach (var builtIn in (string[])["desk/oscillator", "desk/solo-in-place", "desk/external-mute", "desk/clock-locked", "desk/input-bank"])
        {
            if (Rows.All(row => row.Setting != builtIn))
                Assert.Fail($"the sheet has no row for {builtIn}");
        }

        var document = PlanReader.Read(new SourceText("sheet.plan.yaml", text.ToString()), diagnostics);
        var plan = PlanCompiler.Compile(document!, profile, Phase.Doors, diagnostics);
        Assert.True(plan is not null, string.Join('\n', diagnostics.Items));
        using var reader = UdpDeskReader.Open(profile, "127.0.0.1", peer.Port);
        return Sweep.Run(new SweepSubject(plan, reader.Desk, Simulated: false, DateTimeOffset.UnixEpoch), reader, cancel: TestContext.Current.CancellationToken);
    }
}
