namespace Farberth.Monitoring.Telemetry;

/// <summary>One MQTT message as it came or goes: what live service, recording and replay hand about.</summary>
public sealed record WireMessage(string Topic, ReadOnlyMemory<byte> Payload, bool Retain = false);

/// <summary>A message and the moment it arrived, UTC: one line of a recording.</summary>
public sealed record RecordedMessage(DateTimeOffset At, WireMessage Message);
