using Farberth.Adapters.Mqtt;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.Loop;

/// <summary>Empties the outbox into the link, one message after another; while the link is away it waits.</summary>
sealed class Publisher(Outbox outbox, MqttLink link, ILogger log) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var refusedTopics = new HashSet<string>();
        while (true)
        {
            // The link first: while it is away, newer messages may still take the place of older ones.
            await link.State.When(state => state.Phase == LinkPhase.Connected, stoppingToken).ConfigureAwait(false);
            var message = await outbox.Take(stoppingToken).ConfigureAwait(false);
            var result = await link.PublishPatiently(message, stoppingToken).ConfigureAwait(false);
            if (!result.IsAccepted && refusedTopics.Add(message.Topic))
                log.Error("The broker does not take {Topic}: {Problem}", message.Topic, result.Problem);
        }
    }
}
