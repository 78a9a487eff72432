using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Stores;

/// <summary>A folder of a test's own, gone when the test ends.</summary>
sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("farberth-").FullName;

    public string this[string name] => System.IO.Path.Combine(Path, name);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}

static class Given
{
    public static readonly DateTimeOffset Noon = new(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);

    /// <summary>A message that can be told from every other one.</summary>
    public static RecordedMessage Message(int number, int payloadBytes = 20, bool retain = false)
    {
        var payload = new byte[payloadBytes];
        new Random(number).NextBytes(payload);
        return new(Noon.AddMilliseconds(number), new WireMessage($"farberth/v1/s/pedestal/C{number % 7}/reading", payload, retain));
    }

    public static List<RecordedMessage> Messages(int from, int count) => [.. Enumerable.Range(from, count).Select(number => Message(number, number % 60, number % 3 == 0))];

    /// <summary>All that a message says, so that two can be compared.</summary>
    public static string Written(RecordedMessage message) =>
        $"{message.At:O} {message.Message.Retain} {message.Message.Topic} {Convert.ToHexString(message.Message.Payload.Span)}";

    public static List<string> Written(IEnumerable<RecordedMessage> messages) => [.. messages.Select(Written)];

    public static List<string> All(this IntakeLog log, LogPosition from = default) => Written(log.Read(from).Select(read => read.Message));
}
