using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Formatter;
using MQTTnet.Implementations;
using MQTTnet.Packets;

namespace Farberth.Adapters.Mqtt;

/// <summary>
/// The library reads as fast as the socket gives, into a queue of its own that has no bound. Here it waits for a place before it is given
/// a PUBLISH, so that the socket fills and the broker stops sending; TCP is the only brake that every broker minds.
/// </summary>
sealed class PatientAdapters(Func<MqttPublishPacket, CancellationToken, ValueTask> whenThereIsRoom) : IMqttClientAdapterFactory
{
    readonly MqttClientAdapterFactory plain = new();

    public IMqttChannelAdapter CreateClientAdapter(MqttClientOptions options, MqttPacketInspector packetInspector, IMqttNetLogger logger) =>
        new Patient(plain.CreateClientAdapter(options, packetInspector, logger), whenThereIsRoom);

    sealed class Patient(IMqttChannelAdapter adapter, Func<MqttPublishPacket, CancellationToken, ValueTask> whenThereIsRoom) : IMqttChannelAdapter
    {
        public long BytesReceived => adapter.BytesReceived;
        public long BytesSent => adapter.BytesSent;
        public X509Certificate2 ClientCertificate => adapter.ClientCertificate;
        public EndPoint RemoteEndPoint => adapter.RemoteEndPoint;
        public EndPoint LocalEndPoint => adapter.LocalEndPoint;
        public bool IsSecureConnection => adapter.IsSecureConnection;
        public MqttPacketFormatterAdapter PacketFormatterAdapter => adapter.PacketFormatterAdapter;

        public Task ConnectAsync(CancellationToken cancellationToken) => adapter.ConnectAsync(cancellationToken);
        public Task DisconnectAsync(CancellationToken cancellationToken) => adapter.DisconnectAsync(cancellationToken);
        public Task SendPacketAsync(MqttPacket packet, CancellationToken cancellationToken) => adapter.SendPacketAsync(packet, cancellationToken);
        public void ResetStatistics() => adapter.ResetStatistics();
        public void Dispose() => adapter.Dispose();

        public async Task<MqttPacket> ReceivePacketAsync(CancellationToken cancellationToken)
        {
            var packet = await adapter.ReceivePacketAsync(cancellationToken).ConfigureAwait(false);
            if (packet is MqttPublishPacket publish)
                await whenThereIsRoom(publish, cancellationToken).ConfigureAwait(false);
            return packet;
        }
    }
}
