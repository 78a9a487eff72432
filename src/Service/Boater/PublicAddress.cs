using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace Farberth.Service.Boater;

/// <summary>
/// Where people find this service: as it was told, else where it listens. Never what a request names as its host, which anybody can write.
/// </summary>
sealed class PublicAddress(ServiceOptions options, IServer server)
{
    public Uri Value => options.Address ?? new(server.Features.Get<IServerAddressesFeature>()!.Addresses.First());

    public Uri To(string path) => new(Value, path);
}
