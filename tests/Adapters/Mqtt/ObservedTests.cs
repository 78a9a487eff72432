using Farberth.Adapters.Mqtt;

namespace Farberth.Adapters.Tests.Mqtt;

public class ObservedTests
{
    [Fact]
    public async Task A_value_that_stands_only_for_a_moment_is_not_missed()
    {
        var observed = new Observed<int>(0);
        var seen = observed.When(value => value == 1, TestContext.Current.CancellationToken);
        observed.Set(1);
        observed.Set(2);
        Assert.Equal(1, await seen);
        Assert.Equal(2, await observed.When(value => value == 2, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Waiting_can_be_given_up()
    {
        using var cancel = new CancellationTokenSource();
        var never = new Observed<int>(0).When(_ => false, cancel.Token);
        await cancel.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => never);
    }
}
