using System.Collections.Frozen;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Net.Http.Headers;

namespace Farberth.Service.Assets;

/// <summary>Scripts and styles: files inside this assembly. Their address carries a hash of what is in them, so that a browser asks once.</summary>
static class AssetPages
{
    const string Prefix = "asset:", Folder = "/assets";

    static readonly FrozenDictionary<string, byte[]> Files = typeof(AssetPages).Assembly.GetManifestResourceNames()
        .Where(name => name.StartsWith(Prefix, StringComparison.Ordinal)).ToFrozenDictionary(name => name[Prefix.Length..], Read);

    static readonly FrozenDictionary<string, string> Addresses = Files.ToFrozenDictionary(
        file => file.Key, file => $"{Folder}/{Convert.ToHexStringLower(SHA256.HashData(file.Value))[..12]}/{file.Key}");

    /// <summary>Where a page finds the file of this name.</summary>
    public static string Address(string name) => Addresses[name];

    public static void MapAssets(this WebApplication app) => app.MapGet(Folder + "/{hash}/{name}", Serve).AllowAnonymous();

    /// <summary>A service worker lies where the pages are that it may speak for (W3C Service Workers), and is asked for anew each time.</summary>
    public static IResult Worker() => Results.Bytes(Files["boater-worker.js"], Type("boater-worker.js"));

    static IResult Serve(HttpContext context, string hash, string name)
    {
        if (!Addresses.TryGetValue(name, out var address) || address != $"{Folder}/{hash}/{name}")
            return Results.NotFound();
        context.Response.Headers[HeaderNames.CacheControl] = "public, max-age=31536000, immutable";
        return Results.Bytes(Files[name], Type(name));
    }

    static string Type(string name) => Path.GetExtension(name) switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        _ => "application/octet-stream",
    };

    static byte[] Read(string resource)
    {
        using var stream = typeof(AssetPages).Assembly.GetManifestResourceStream(resource)!;
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }
}
