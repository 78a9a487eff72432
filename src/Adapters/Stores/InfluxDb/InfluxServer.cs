using System.Net;
using InfluxDB.Client;
using InfluxDB.Client.Api.Domain;
using InfluxDB.Client.Core.Exceptions;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>
/// The one place that talks to InfluxDB. One request, one outcome: nothing is kept here and nothing is tried again, because
/// only the forwarder knows what is safe on disk. The client's buffering writer is not used: it lost batches without a word
/// when the server was away.
/// </summary>
public sealed class InfluxServer : IDisposable
{
    // Never reached: the deadline below is kept by the clock that was passed in.
    static readonly TimeSpan ClientTimeout = TimeSpan.FromHours(1);

    readonly InfluxOptions options;
    readonly TimeProvider time;
    readonly InfluxDBClient client;
    readonly WriteApiAsync writes;

    public InfluxServer(InfluxOptions options, TimeProvider time)
    {
        (this.options, this.time) = (options, time);
        var clientOptions = new InfluxDBClientOptions(options.Url.AbsoluteUri) { Timeout = ClientTimeout };
        if (options.Token.Length > 0)
            clientOptions.Token = options.Token;
        client = new InfluxDBClient(clientOptions);
        client.EnableGzip();
        writes = client.GetWriteApiAsync();
    }

    /// <exception cref="OperationCanceledException">Cancelled; the server may still have taken it.</exception>
    public async Task<WriteOutcome> Write(IReadOnlyList<string> lines, CancellationToken cancel)
    {
        using var deadline = new CancellationTokenSource(options.AnswerWithin, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(deadline.Token, cancel);
        try
        {
            await writes.WriteRecordsAsync(lines, WritePrecision.Ns, options.Bucket, options.Organization, either.Token).ConfigureAwait(false);
            return new WriteOutcome(WriteStatus.Accepted);
        }
        catch (Exception e) when (e is OperationCanceledException or HttpException or HttpRequestException)
        {
            cancel.ThrowIfCancellationRequested();
            if (deadline.IsCancellationRequested)
                return new WriteOutcome(WriteStatus.Away, $"no answer within {options.AnswerWithin.TotalSeconds:0} s");
            return e is HttpException answered ? Outcome(answered) : new WriteOutcome(WriteStatus.Away, e.Message);
        }
    }

    public void Dispose() => client.Dispose();

    static WriteOutcome Outcome(HttpException answered)
    {
        var status = (HttpStatusCode)answered.Status switch
        {
            0 => WriteStatus.Away,
            HttpStatusCode.BadRequest or HttpStatusCode.RequestEntityTooLarge or HttpStatusCode.UnprocessableEntity => WriteStatus.BadLines,
            HttpStatusCode.TooManyRequests or HttpStatusCode.RequestTimeout or >= HttpStatusCode.InternalServerError => WriteStatus.Busy,
            _ => WriteStatus.Refused,
        };
        var retryAfter = answered.RetryAfter is { } seconds ? TimeSpan.FromSeconds(seconds) : (TimeSpan?)null;
        return new WriteOutcome(status, $"{(answered.Status > 0 ? answered.Status : "")} {answered.Message}".TrimStart(), retryAfter);
    }
}
