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
/// Every shipped desk profile against its hand-written protocol sheet, served by a Python peer that shares nothing with our codec.
/// </summary>
[Collection(SocketsGroup.Name)]
public sealed class ProtocolSheetTests
{
    public static TheoryData<string> Desks => [.. ShippedFiles.Desks];

    [Theory]
    [MemberData(nameof(Desks))]
    public void The_sheet_has_at_least_forty_rows_of_many_kinds(string desk)
    {
        var rows = Rows(desk);
        var profile = Profile(desk);
        Assert.True(rows.Count >= 40, $"{rows.Count} rows");
        Assert.All(rows, row => Assert.True(profile.Find(row.Setting) >= 0, $"the profile does not map {row.Setting}"));
        var kinds = rows.Select(row => profile.Settings[profile.Find(row.Setting)].Kind.Shape).Distinct().ToList();
        Assert.True(kinds.Count >= 12, $"{kinds.Count} kinds");
    }

    [Theory]
    [MemberData(nameof(Desks))]
    public async Task Every_row_of_the_sheet_is_verified_by_a_sweep(string desk)
    {
        var rows = Rows(desk);
        using var peer = await SheetPeer.StartDesk(desk);
        var result = SweepPeer(desk, peer, rows.Select(row => (row.Setting, row.Value)));
        Assert.Equal([], result.Unseen);
        Assert.Equal(rows.Count, result.Verified - BuiltIns(rows, result));
        Assert.Equal([], result.Audit.Findings.Select(finding => $"{finding.Id} {finding.Planned} {finding.Live}"));
    }

    [Theory]
    [MemberData(nameof(Desks))]
    public async Task A_wrong_value_in_an_answer_is_reported_for_that_setting_and_no_other(string desk)
    {
        var rows = Rows(desk);
        // Each answer is exchanged for that of another row with the same shape of value, so that the sheet's own bytes stay the source.
        foreach (var (row, other) in Exchangeable(rows).Take(12))
        {
            using var peer = await SheetPeer.StartDesk(desk, $"{row.Setting}={Convert.ToHexString(other)}");
            var result = SweepPeer(desk, peer, rows.Where(item => item.Question.SequenceEqual(row.Question)).Select(item => (item.Setting, item.Value)));
            Assert.Contains(result.Audit.Findings, finding => finding.Setting == row.Setting);
            Assert.All(result.Audit.Findings, finding => Assert.Contains(rows, item => item.Setting == finding.Setting && item.Question.SequenceEqual(row.Question)));
        }
    }

    [Theory]
    [MemberData(nameof(Desks))]
    public async Task A_planned_value_that_the_desk_does_not_have_is_reported(string desk)
    {
        var rows = Rows(desk);
        using var peer = await SheetPeer.StartDesk(desk);
        var level = rows.First(row => row.Setting.EndsWith("/fader", StringComparison.Ordinal) && row.Value == "0.0 dB");
        var result = SweepPeer(desk, peer, [(level.Setting, "-10 dB")]);
        var finding = Assert.Single(result.Audit.Findings);
        Assert.Equal(("-10.0 dB", "0.0 dB"), (finding.Planned, finding.Live));
    }

    [Theory]
    [MemberData(nameof(Desks))]
    public async Task Everything_that_reaches_the_desk_is_a_question_of_the_shipped_list(string desk)
    {
        var rows = Rows(desk);
        var patterns = File.ReadLines(ShippedFiles.QuestionsOf(desk)).Where(line => line.Length > 0 && line[0] != '#').Select(line => new Regex(line, RegexOptions.None, TimeSpan.FromSeconds(1))).ToList();
        using var peer = await SheetPeer.StartDesk(desk);
        _ = SweepPeer(desk, peer, rows.Select(row => (row.Setting, row.Value)));
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
    private static IEnumerable<(SheetRow Row, byte[] Answer)> Exchangeable(IReadOnlyList<SheetRow> rows)
    {
        foreach (var row in rows)
        {
            var own = Body(row);
            foreach (var other in rows)
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

    private static int BuiltIns(IReadOnlyList<SheetRow> rows, SweepResult result) =>
        result.Subject.Plan.Expectations.Count(item => item.Rank == Ranks.ShowDefault && rows.All(row => row.Setting != result.Subject.Plan.Profile.Settings[item.Setting].Path));

    private static IReadOnlyList<SheetRow> Rows(string desk) => [.. SheetRow.ReadAll(desk).Where(row => row.Setting is not ("identify" or "keep-alive"))];

    private static DeskProfile Profile(string desk)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText($"{desk}.desk.yaml", File.ReadAllText(ShippedFiles.DeskOf(desk))), diagnostics);
        Assert.Empty(diagnostics.Items);
        return profile!;
    }

    private static SweepResult SweepPeer(string desk, SheetPeer peer, IEnumerable<(string Setting, string Value)> planned)
    {
        var diagnostics = new DiagnosticBag();
        var profile = Profile(desk);
        var rows = Rows(desk);
        var text = new StringBuilder("format: statewatch/show/1\nshow: Sheet\ndesk: sheet.desk.yaml\nsettings:\n");
        foreach (var (setting, value) in planned)
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"  \"{setting}\": \"{value}\"\n");
        // What every show wants is not in every sheet: these are not under test here.
        foreach (var builtIn in (string[])["desk/oscillator", "desk/solo-in-place", "desk/external-mute", "desk/clock-locked", "desk/input-bank"])
        {
            if (rows.All(row => row.Setting != builtIn))
                Assert.Fail($"the sheet has no row for {builtIn}");
        }

        var document = PlanReader.Read(new SourceText("sheet.plan.yaml", text.ToString()), diagnostics);
        var plan = PlanCompiler.Compile(document!, profile, Phase.Doors, diagnostics);
        Assert.True(plan is not null, string.Join('\n', diagnostics.Items));
        using var reader = UdpDeskReader.Open(profile, "127.0.0.1", peer.Port);
        return Sweep.Run(new SweepSubject(plan, reader.Desk, Simulated: false, DateTimeOffset.UnixEpoch), reader, cancel: TestContext.Current.CancellationToken);
    }
}
