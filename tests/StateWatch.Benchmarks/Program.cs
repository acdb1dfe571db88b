using BenchmarkDotNet.Running;
using StateWatch.Benchmarks.Hostile;

if (args is ["hostile", var profile, ..])
    return HostileTable.Run(profile, args.Length > 2 ? args[2] : "");
BenchmarkSwitcher.FromAssembly(typeof(Program).Assembly).Run(args);
return 0;
