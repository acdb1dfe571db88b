using StateWatch.Commands;

return CommandLine.Run(args);
