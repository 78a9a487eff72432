using System.Buffers;
using System.Diagnostics.CodeAnalysis;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.SignalR;
using Microsoft.AspNetCore.SignalR.Protocol;

namespace Farberth.Console.Tests;

/// <summary>What Blazor's script speaks to the service: SignalR's hub protocol in MessagePack, by a name of its own.</summary>
sealed class BlazorPack : IHubProtocol
{
    readonly MessagePackHubProtocol packed = new();

    public string Name => "blazorpack";

    public int Version => 1;

    public TransferFormat TransferFormat => packed.TransferFormat;

    public bool IsVersionSupported(int version) => version <= Version;

    public bool TryParseMessage(ref ReadOnlySequence<byte> input, IInvocationBinder binder, [NotNullWhen(true)] out HubMessage? message) =>
        packed.TryParseMessage(ref input, binder, out message);

    public void WriteMessage(HubMessage message, IBufferWriter<byte> output) => packed.WriteMessage(message, output);

    public ReadOnlyMemory<byte> GetMessageBytes(HubMessage message) => packed.GetMessageBytes(message);
}
