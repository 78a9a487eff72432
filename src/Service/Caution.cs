using Farberth.Monitoring.Alarms;

namespace Farberth.Service;

/// <summary>What stands under everything that this program shows.</summary>
public static class Caution
{
    public const string Text = Cautions.Text;
}
