using Farberth.Grid.Estimation;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>Against printed tables of critical values: each is the value that chance passes in the stated share of cases.</summary>
public class ChiSquareTests
{
    /// <summary>NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, upper critical values of the chi-square distribution.</summary>
    [Theory]
    [InlineData(1, 2.706, 3.841, 6.635, 10.828)]
    [InlineData(2, 4.605, 5.991, 9.210, 13.816)]
    [InlineData(3, 6.251, 7.815, 11.345, 16.266)]
    [InlineData(4, 7.779, 9.488, 13.277, 18.467)]
    [InlineData(5, 9.236, 11.070, 15.086, 20.515)]
    [InlineData(10, 15.987, 18.307, 23.209, 29.588)]
    [InlineData(20, 28.412, 31.410, 37.566, 45.315)]
    [InlineData(30, 40.256, 43.773, 50.892, 59.703)]
    [InlineData(50, 63.167, 67.505, 76.154, 86.661)]
    [InlineData(100, 118.498, 124.342, 135.807, 149.449)]
    public void Chance_passes_the_printed_critical_values_as_often_as_printed(int degrees, double at10, double at5, double at1, double at01)
    {
        foreach (var (value, share) in new[] { (at10, 0.1), (at5, 0.05), (at1, 0.01), (at01, 0.001) })
        {
            // Printed to three decimals: half of the last one either way.
            Assert.True(ChiSquare.ChanceAbove(value - 0.0006, degrees) > share, $"{value}");
            Assert.True(ChiSquare.ChanceAbove(value + 0.0006, degrees) < share, $"{value}");
        }
    }

    /// <summary>Printed tables of the standard normal distribution, one tail: 1.645, 1.960, 2.576, 3.291 (two tails 0.1 %), and 3.4e-6 at 4.5.</summary>
    [Theory]
    [InlineData(1.645, 0.0500)]
    [InlineData(1.960, 0.0250)]
    [InlineData(2.576, 0.0050)]
    [InlineData(3.291, 0.0005)]
    [InlineData(4.5, 3.4e-6)]
    public void One_degree_is_the_two_tails_of_the_normal_table(double deviations, double tail) =>
        Assert.Equal(1, ChiSquare.ChanceAbove(deviations * deviations, 1) / (2 * tail), 2e-3);

    /// <summary>Its mean is ν and its median near ν − 2/3 (textbook).</summary>
    [Theory]
    [InlineData(40)]
    [InlineData(240)]
    [InlineData(2000)]
    public void Half_of_all_sums_pass_the_median(int degrees) =>
        Assert.Equal(0.5, ChiSquare.ChanceAbove(degrees - 2.0 / 3, degrees), 1e-3);
}
