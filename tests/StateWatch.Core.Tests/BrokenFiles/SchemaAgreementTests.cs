using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Schemas;
using StateWatch.Core.Tests.Documents;
using StateWatch.Core.Tests.Reports;

namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>Schemas and readers judge alike, as far as a schema can that knows neither names nor the desk; judged by an independent implementation.</summary>
public class SchemaAgreementTests
{
    public static TheoryData<string> Kinds => [.. LanguageSchema.All.Select(one => one.Kind)];

    public static TheoryData<string> Broken => [.. BrokenFile.All];

    public static TheoryData<string> Shipped =>
    [
        .. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "profiles"), "*.yaml", SearchOption.AllDirectories)
            .Concat(Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "BrokenFiles", "_valid"))).Select(path => Path.GetRelativePath(AppContext.BaseDirectory, path)),
    ];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Schema_is_what_the_tables_make(string kind)
    {
        var (_, root, id, path) = LanguageSchema.All.Single(one => one.Kind == kind);
        Golden.CheckFile(path, SchemaWriter.Write(root, id));
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public void Good_file_is_good_by_the_schema(string path)
    {
        var bytes = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, path));
        var kind = path.Split('.')[^2];
        Assert.Equal([], LanguageSchema.Faults(kind, bytes, resolve: true));
        Assert.Equal([], LanguageSchema.Faults(kind, bytes, resolve: false));
    }

    [Fact]
    public void Shipped_files_name_their_schema_in_their_first_line()
    {
        var files = Shipped.Select(row => row.Data).Where(path => path.StartsWith("profiles", StringComparison.Ordinal)).ToList();
        Assert.True(files.Count >= 3);
        Assert.All(files, path =>
        {
            var schema = LanguageSchema.All.Single(one => one.Kind == path.Split('.')[^2]).Path;
            Assert.Equal($"# yaml-language-server: $schema={Path.GetRelativePath(Path.GetDirectoryName(path)!, schema).Replace('\\', '/')}", File.ReadLines(Path.Combine(AppContext.BaseDirectory, path)).First());
        });
    }

    [Theory]
    [MemberData(nameof(Broken))]
    public void What_the_schema_refuses_the_reader_refuses_and_faults_of_shape_the_schema_refuses_too(string name)
    {
        var file = BrokenFile.Of(name);
        if (LanguageSchema.Faults(file.Kind, file.Bytes, resolve: true) is not { } faults)
            return;
        var isShape = SchemaBlindness.FilesSeenAllTheSame.Contains(name) || SchemaBlindness.CodesOfShape.Contains(file.Code) && !SchemaBlindness.FilesOfTheDesk.Contains(name);
        Assert.True(isShape == faults.Count > 0, $"{name} ({file.Code}): {string.Join("; ", faults.DefaultIfEmpty("the schema has nothing against it"))}");
        if (faults.Count > 0)
            Assert.Contains(file.Read(), item => item.Code.Level == DiagnosticLevel.Error);
        if (faults.Count > 0 && (file.Suggestion ?? file.Replacement) is { } change)
            Assert.Equal([], LanguageSchema.Faults(file.Kind, file.With(change.Old, change.New), resolve: true));
    }

    [Fact]
    public void Every_code_is_either_of_shape_or_beyond_a_schema()
    {
        var codes = BrokenFile.All.Select(name => BrokenFile.Of(name)).Where(file => LanguageSchema.Faults(file.Kind, file.Bytes, resolve: true) is not null).Select(file => file.Code).ToHashSet();
        Assert.Equal([], codes.Except([.. SchemaBlindness.CodesOfShape, .. SchemaBlindness.CodesBeyond]));
        Assert.Equal([], SchemaBlindness.CodesOfShape.Concat(SchemaBlindness.CodesBeyond).Except(codes));
        Assert.Empty(SchemaBlindness.CodesOfShape.Intersect(SchemaBlindness.CodesBeyond));
        Assert.Empty(SchemaBlindness.FilesOfTheDesk.Concat(SchemaBlindness.FilesSeenAllTheSame).Except(BrokenFile.All));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Smallest_file_of_every_key_is_good_by_the_schema_and_one_of_an_unknown_key_is_not(string kind)
    {
        foreach (var (table, also, around) in LanguageFiles.Tables(LanguageSchema.All.Single(one => one.Kind == kind).Root))
        {
            foreach (var row in table.Rows)
            {
                var text = around(LanguageFiles.Mapping(table, also, row.Key, row.Example));
                Assert.True(LanguageSchema.Faults(kind, Encoding.UTF8.GetBytes(text), resolve: true) is [], $"{text}: {string.Join("; ", LanguageSchema.Faults(kind, Encoding.UTF8.GetBytes(text), resolve: true)!)}");
            }

            Assert.NotEqual([], LanguageSchema.Faults(kind, Encoding.UTF8.GetBytes(around(LanguageFiles.Mapping(table, also, "zyzzyva", "1"))), resolve: true));
        }
    }
}
