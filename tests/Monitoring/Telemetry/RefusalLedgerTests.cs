using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Telemetry;

public class RefusalLedgerTests
{
    static Refusal Refused(RefusalReason reason, string detail) => new(TelemetrySite.Now, reason, "t", detail, default);

    [Fact]
    public void Each_reason_has_its_count_and_its_last_refusal()
    {
        var ledger = new RefusalLedger();
        ledger.Add([Refused(RefusalReason.Negative, "first"), Refused(RefusalReason.NotJson, "other"), Refused(RefusalReason.Negative, "second")]);
        var snapshot = ledger.Snapshot();
        Assert.Equal([RefusalReason.NotJson, RefusalReason.Negative], snapshot.Keys);
        Assert.Equal(2, snapshot[RefusalReason.Negative].Count);
        Assert.Equal("second", snapshot[RefusalReason.Negative].Last.Detail);
    }

    [Fact]
    public void A_snapshot_does_not_change_when_the_ledger_does()
    {
        var ledger = new RefusalLedger();
        ledger.Add(Refused(RefusalReason.Missing, "a"));
        var snapshot = ledger.Snapshot();
        ledger.Add(Refused(RefusalReason.Missing, "b"));
        Assert.Equal(1, snapshot[RefusalReason.Missing].Count);
        Assert.Equal(2, ledger.Snapshot()[RefusalReason.Missing].Count);
    }
}
