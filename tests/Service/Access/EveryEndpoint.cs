using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using Farberth.Adapters.Mqtt;
using Farberth.Service.Access;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Serilog;

namespace Farberth.Service.Tests.Access;

/// <summary>
/// Every endpoint that the service has, asked by nobody and by an account of each role. Which rule an endpoint has is written down in
/// tests/data/access, where a change is seen; that the rule holds is tried.
/// </summary>
public sealed class EveryEndpoint : IAsyncLifetime
{
    const string Password = "nine knots in a hawser", Open = "open to all";

    static readonly string Table = Path.Combine(AppContext.BaseDirectory, "data", "access", "endpoints.txt");

    RunningService service = default!;
    IReadOnlyList<Endpoint> endpoints = [];

    /// <param name="Rule">Of <see cref="Policies"/>, <see cref="Open"/>, or null: it names none.</param>
    sealed record Endpoint(string Method, string Pattern, string? Rule)
    {
        public override string ToString() => $"{Method} {Pattern}: {Rule ?? "NO RULE"}";
    }

    public async ValueTask InitializeAsync()
    {
        var site = Given.FourPosts();
        service = await RunningService.Start(
            new ServiceOptions(site, new MqttOptions("127.0.0.1", 0, ServiceOptions.ClientId(site)), BrokerPort: 0, new Uri("http://127.0.0.1:0"))
            {
                Access = new() { NeedsSignIn = true },
            }, TimeProvider.System, Log.Logger);
        endpoints = [.. service.Parts.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>().SelectMany(Of).Distinct().OrderBy(one => one.ToString(), StringComparer.Ordinal)];
        using var scope = service.Parts.CreateScope();
        var accounts = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        foreach (var role in Roles.All)
        {
            var account = new Account { UserName = role };
            Assert.True((await accounts.CreateAsync(account, Password)).Succeeded);
            Assert.True((await accounts.AddToRoleAsync(account, role)).Succeeded);
        }
    }

    public ValueTask DisposeAsync() => service.DisposeAsync();

    [Fact]
    public void Has_the_rule_that_is_written_down()
    {
        Assert.True(endpoints.Count > 40, "the service has hardly any endpoint");
        var rules = endpoints.Select(one => one.ToString()).ToList();
        Assert.True(rules.SequenceEqual(File.ReadAllLines(Table)), $"endpoints and their rules are now:\n{string.Join('\n', rules)}");
    }

    [Theory]
    [InlineData(null)]
    [InlineData(Roles.Viewer)]
    [InlineData(Roles.Harbormaster)]
    [InlineData(Roles.Electrician)]
    [InlineData(Roles.Administrator)]
    public async Task Lets_in_whom_its_rule_names_and_nobody_else(string? role)
    {
        using var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = service.HttpAddress };
        client.DefaultRequestHeaders.Add("X-Farberth", "1");
        if (role is not null)
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", await Token(client, role));
        var wrong = new List<string>();
        foreach (var endpoint in endpoints.Where(one => one.Pattern != "/api/token"))
        {
            using var request = new HttpRequestMessage(new HttpMethod(endpoint.Method), Sample(endpoint.Pattern));
            if (endpoint.Method != "GET")
                request.Content = endpoint.Pattern.StartsWith("/api/site/", StringComparison.Ordinal) ? new StringContent("site: x", null, "application/yaml") : JsonContent.Create(new JsonObject());
            using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
            var isShut = answer.StatusCode is HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden
                || answer.Headers.Location?.ToString() is { } to && (to.Contains("/sign-in?", StringComparison.Ordinal) || to.Contains("/not-allowed", StringComparison.Ordinal));
            var mayIn = endpoint.Rule == Open || endpoint.Rule is { } rule && role is not null && Policies.RolesOf[rule].Contains(role);
            if (isShut == mayIn)
                wrong.Add($"{endpoint} answers {(int)answer.StatusCode} {answer.Headers.Location} {answer.Headers.WwwAuthenticate} to {role ?? "nobody"}");
        }
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    /// <summary>So that who reads the description knows what he has to bring; whoever adds an endpoint with a rule finds it there.</summary>
    [Fact]
    public async Task The_description_says_of_each_what_its_rule_says()
    {
        using var client = new HttpClient { BaseAddress = service.HttpAddress };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", await Token(client, Roles.Viewer));
        var document = (await client.GetFromJsonAsync<JsonNode>("/api/openapi.json", TestContext.Current.CancellationToken))!;
        var schemes = document["components"]!["securitySchemes"]!;
        Assert.Equal(("http", "bearer"), ((string?)schemes["bearer"]!["type"], (string?)schemes["bearer"]!["scheme"]));
        Assert.Equal(("apiKey", "cookie", "farberth"), ((string?)schemes["cookie"]!["type"], (string?)schemes["cookie"]!["in"], (string?)schemes["cookie"]!["name"]));

        var described = endpoints.Where(one => one.Pattern.StartsWith("/api/", StringComparison.Ordinal) && one.Pattern is not ("/api/openapi.json" or "/api/{**path}")).ToList();
        Assert.True(described.Count > 30, "hardly any endpoint is described");
        Assert.All(described, one => Assert.Equal(Expected(one), Said(document, one)));
    }

    /// <summary>Each way in by itself: its schemes, and the role in the first of them.</summary>
    static IEnumerable<string> Expected(Endpoint endpoint) => endpoint.Rule == Open ? [] : Policies.RolesOf[endpoint.Rule!]
        .SelectMany(role => new[] { $"bearer {role}", endpoint.Method == "GET" ? $"cookie {role}" : $"cookie {role}, own-page" }).Order();

    static IEnumerable<string> Said(JsonNode document, Endpoint endpoint)
    {
        var path = System.Text.RegularExpressions.Regex.Replace(endpoint.Pattern, @":[a-z]+\}", "}");
        var operation = (document["paths"]![path] ?? document["paths"]![path.TrimEnd('/')])?[endpoint.Method.ToLowerInvariant()];
        Assert.True(operation is not null, $"{endpoint} is not described");
        return (operation["security"]?.AsArray() ?? []).Select(way => string.Join(", ", way!.AsObject().OrderBy(scheme => scheme.Key, StringComparer.Ordinal)
            .Select(scheme => string.Join(' ', [scheme.Key, .. scheme.Value!.AsArray().Select(role => (string?)role)])))).Order();
    }

    static IEnumerable<Endpoint> Of(RouteEndpoint endpoint)
    {
        var rules = endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>().Select(rule => rule.Policy).OfType<string>().ToList();
        // The strictest that a page names stands beside that of all pages.
        var rule = endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null ? Open : rules.FirstOrDefault(one => one != Policies.Look) ?? rules.FirstOrDefault();
        return (endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET"]).Where(method => method is not ("HEAD" or "OPTIONS"))
            .Select(method => new Endpoint(method, "/" + endpoint.RoutePattern.RawText!.TrimStart('/'), rule));
    }

    static async Task<string> Token(HttpClient client, string name)
    {
        using var answer = await client.PostAsJsonAsync("/api/token", new { name, password = Password }, TestContext.Current.CancellationToken);
        return (string)(await answer.Content.ReadFromJsonAsync<JsonNode>(TestContext.Current.CancellationToken))!["access-token"]!;
    }

    /// <summary>Names and numbers that may not be there: what is asked here is whether one is let in, not what one finds.</summary>
    static string Sample(string pattern) => System.Text.RegularExpressions.Regex.Replace(pattern, @"\{[^}]*\}", part => part.Value.Contains("long", StringComparison.Ordinal) ? "7" : "x");
}
