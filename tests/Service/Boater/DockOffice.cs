using Farberth.Service.Access;
using Farberth.Service.Boater;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;

namespace Farberth.Service.Tests.Boater;

/// <summary>Stays, links and door of the quay with four pedestals, in memory, on a clock that is set by hand.</summary>
sealed class DockOffice : IDisposable
{
    public static readonly DateTimeOffset Noon = new(2027, 8, 3, 12, 0, 0, TimeSpan.Zero);

    readonly ServiceProvider made;

    public DockOffice()
    {
        made = PeopleFile.AddTo(new ServiceCollection(), null).AddSingleton<TimeProvider>(Clock).AddSingleton(Given.FourPosts())
            .AddSingleton(LinkKey.In(null)).AddSingleton<BoaterLinks>().AddSingleton<Stays>().AddSingleton<Doorkeeper>().BuildServiceProvider();
        made.GetRequiredService<PeopleFile>().BringUpToDate();
    }

    public FakeTimeProvider Clock { get; } = new(Noon);

    public Stays Stays => made.GetRequiredService<Stays>();

    public BoaterLinks Links => made.GetRequiredService<BoaterLinks>();

    public Doorkeeper Door => made.GetRequiredService<Doorkeeper>();

    public Task<StayOutcome> Add(string slip = "B1", string boat = "Osprey", double fromDay = -1, double toDay = 6) =>
        Stays.Add(new(slip, boat, Noon.AddDays(fromDay), Noon.AddDays(toDay)));

    /// <summary>Of a stay that must be taken.</summary>
    public async Task<BoatStay> Stay(string slip = "B1", double fromDay = -1, double toDay = 6) => (await Add(slip, fromDay: fromDay, toDay: toDay)).Stay!;

    public async Task<int> Status(string token) => (await Door.Open(token, null)).Status;

    public void Dispose() => made.Dispose();
}
