using System.Net;
using System.Net.Sockets;

namespace Farberth.Tests.Fixtures;

/// <summary>
/// Stands between a program and a server on loopback. While it holds, connections are accepted and nothing gets through either way; what
/// was held back goes on when it lets go.
/// </summary>
public sealed class HoldingProxy : IAsyncDisposable
{
    readonly TcpListener listener = new(IPAddress.Loopback, 0);
    readonly CancellationTokenSource closing = new();
    readonly int server;
    readonly Task accepting;
    volatile TaskCompletionSource open = new(TaskCreationOptions.RunContinuationsAsynchronously);
    int accepted;

    public HoldingProxy(int server)
    {
        this.server = server;
        listener.Start();
        accepting = Accept();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>Connections so far.</summary>
    public int Accepted => Volatile.Read(ref accepted);

    public void Hold()
    {
        if (open.Task.IsCompleted)
            open = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }

    public void LetGo() => open.TrySetResult();

    public async ValueTask DisposeAsync()
    {
        await closing.CancelAsync();
        listener.Stop();
        await accepting;
        closing.Dispose();
    }

    async Task Accept()
    {
        try
        {
            while (true)
            {
                var client = await listener.AcceptSocketAsync(closing.Token);
                Interlocked.Increment(ref accepted);
                _ = Carry(client);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or SocketException)
        {
            // Disposed of.
        }
    }

    async Task Carry(Socket client)
    {
        using var near = client;
        using var far = new Socket(SocketType.Stream, ProtocolType.Tcp);
        try
        {
            await far.ConnectAsync(IPAddress.Loopback, server, closing.Token);
            await Task.WhenAny(Carry(near, far), Carry(far, near));
        }
        catch (Exception e) when (e is OperationCanceledException or SocketException)
        {
            // One of the two has gone: so does the other.
        }
    }

    async Task Carry(Socket from, Socket to)
    {
        var bytes = new byte[64 * 1024];
        while (await from.ReceiveAsync(bytes, closing.Token) is > 0 and var read)
        {
            while (!open.Task.IsCompleted)
                await open.Task.WaitAsync(closing.Token);
            await to.SendAsync(bytes.AsMemory(0, read), closing.Token);
        }
    }
}
