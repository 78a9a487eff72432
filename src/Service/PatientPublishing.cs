using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service;

/// <summary>Publishing that waits for a broker that is away.</summary>
public static class PatientPublishing
{
    /// <summary>Publishes, again if need be, until the broker has said yes or no. It may get the message twice.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static async ValueTask<PublishResult> PublishPatiently(this MqttLink link, WireMessage message, CancellationToken cancel)
    {
        while (true)
        {
            await link.State.When(state => state.Phase == LinkPhase.Connected, cancel).ConfigureAwait(false);
            var result = await link.Publish(message, cancel).ConfigureAwait(false);
            if (result.Status != PublishStatus.Away)
                return result;
            // The link may not have noticed yet that the connection is gone.
            await Task.Yield();
        }
    }
}
