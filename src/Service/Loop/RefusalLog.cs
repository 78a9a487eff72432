using Farberth.Monitoring.Telemetry;
using Farberth.Service.Views;
using Serilog;

namespace Farberth.Service.Loop;

/// <summary>Logs refusals without a flood: of each reason the 1st, 10th, 100th and so on, with the count.</summary>
sealed class RefusalLog(ILogger log)
{
    public void Write(IEnumerable<Refusal> refusals, IReadOnlyDictionary<RefusalReason, RefusalTally> tallies)
    {
        foreach (var refusal in refusals)
            if (tallies[refusal.Reason].Count is var count && IsPowerOfTen(count))
                log.Warning("Refused {Topic}: {Reason}, {Detail} ({Count} so far)", refusal.Topic, refusal.Reason.Word(), refusal.Detail, count);
    }

    static bool IsPowerOfTen(long count)
    {
        while (count >= 10 && count % 10 == 0)
            count /= 10;
        return count == 1;
    }
}
