using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace Farberth.Service.Boater;

/// <summary>
/// Where people find this service: as it was told, else where it listens. Never what a request names as its host, which anybody can write.
/// </summary>
sealed class PublicAddress(ServiceOptions options, IServer server)
{
    /// <summary>What waits to be told may go out before the server listens.</summary>
    public Uri Value => options.Address ?? (server.Features.Get<IServerAddressesFeature>()?.Addresses.FirstOrDefault() is { } listens ? new(listens) : options.Http);

    public Uri To(string path) => new(Value, path);
}
