using Farberth.Service.Views;

namespace Farberth.Service.Tests.Views;

public class AsCountedTests
{
    [Fact]
    public void Names_stand_as_people_count_them() => Assert.Equal(
        ["", "A", "G", "G-1", "G-2", "G-02", "G-10", "G-10b", "G-99999999999999999999", "G1.A", "G2.A", "G2.B", "G10.A", "H"],
        new[] { "G-10", "G2.B", "H", "G-1", "G10.A", "", "G-2", "G1.A", "G-02", "G", "G-99999999999999999999", "A", "G2.A", "G-10b" }.OrderBy(AsCounted.Key, StringComparer.Ordinal));
}
