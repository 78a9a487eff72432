using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Mqtt;

/// <summary>A message that a link has taken.</summary>
/// <param name="Number">Counts up by one from 1, over all connections of the link; for <see cref="MqttLink.Confirm"/>.</param>
public readonly record struct Arrival(long Number, RecordedMessage Recorded);
