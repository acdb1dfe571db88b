using System.CommandLine;

namespace StateWatch.Commands;

/// <summary>A line of help for the list of verbs, and the whole of it for the verb that is asked about.</summary>
internal static class VerbHelp
{
    private const string Fold = "\n\n";

    /// <summary>Makes a verb whose help is a line and, below a blank line, the rest.</summary>
    public static Command Verb(string name, string summary, string rest) => new(name, summary + Fold + rest);

    /// <summary>Folds the help of all verbs but the one on the command line.</summary>
    public static void Unfold(RootCommand root, string[] args)
    {
        foreach (var verb in root.Subcommands)
        {
            if (args.Length > 0 && args[0] == verb.Name || verb.Description is not { } description)
                continue;
            var fold = description.IndexOf(Fold, StringComparison.Ordinal);
            verb.Description = fold < 0 ? description : description[..fold];
        }
    }
}
