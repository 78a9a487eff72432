using System.Text;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Views;

/// <summary>The words for refusal reasons, as not-json.</summary>
public static class RefusalWords
{
    public static string Word(this RefusalReason reason)
    {
        var word = new StringBuilder();
        foreach (var letter in reason.ToString())
        {
            if (char.IsUpper(letter) && word.Length > 0)
                word.Append('-');
            word.Append(char.ToLowerInvariant(letter));
        }
        return word.ToString();
    }
}
