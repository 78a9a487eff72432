using BenchmarkDotNet.Running;

BenchmarkSwitcher.FromAssembly(typeof(Farberth.Benchmarks.DockSweep).Assembly).Run(args);
