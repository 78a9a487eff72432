using System.IO.Compression;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests.Restart;

/// <summary>Measured, not tested: how large the memory of the demo's dock is after some hours, and how long it takes to make and to use.</summary>
public class MemorySize(ITestOutputHelper output)
{
    const int Times = 9;

    [Theory(Explicit = true)]
    [InlineData(1)]
    [InlineData(24)]
    public void Of_the_demos_dock_after(int hours)
    {
        var site = Given.Site("scenarios/kestrel-cove.site.yaml");
        var monitor = new SiteMonitor(site);
        var demo = Given.Scenario("scenarios/hot-afternoon.scenario.yaml");
        var part = demo with { Start = demo.Start.Date, End = demo.Start.Date.AddHours(hours) };
        foreach (var step in new Simulation(part, site).Steps())
        {
            foreach (var message in step.Arrived)
                monitor.Take(message);
            foreach (var _ in monitor.Advance(step.Truth.Time))
            {
            }
        }
        var memory = monitor.Memory();
        var bytes = memory.ToBytes();
        output.WriteLine($"{hours} h: {bytes.Length} bytes, {Unzipped(bytes)} before they are zipped");
        output.WriteLine($"made in {Milliseconds(() => monitor.Memory()):0.0} ms, written in {Milliseconds(() => memory.ToBytes()):0.0} ms, "
            + $"read in {Milliseconds(() => SiteMemory.Read(bytes)):0.0} ms, gone on from in {Milliseconds(() => new SiteMonitor(site, memory)):0.0} ms of the processor (medians of {Times})");
    }

    static long Unzipped(byte[] bytes)
    {
        using var json = new MemoryStream();
        using var zip = new GZipStream(new MemoryStream(bytes), CompressionMode.Decompress);
        zip.CopyTo(json);
        return json.Length;
    }

    static double Milliseconds(Func<object> what) => Enumerable.Range(0, Times).Select(_ =>
    {
        var before = Environment.CpuUsage.TotalTime; // others may use the machine
        GC.KeepAlive(what());
        return (Environment.CpuUsage.TotalTime - before).TotalMilliseconds;
    }).Order().ElementAt(Times / 2);
}
