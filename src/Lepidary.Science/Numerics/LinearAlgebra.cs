namespace Lepidary.Science.Numerics;

/// <summary>The little linear algebra that tests of a few groups need.</summary>
internal static class LinearAlgebra
{
    /// <summary>vᵀ·M⁻¹·v for the leading block of a positive definite matrix, by Cholesky's factor.</summary>
    /// <exception cref="ArgumentException">The block is not positive definite: a group carries no information.</exception>
    public static double QuadraticForm(double[,] matrix, double[] vector, int size)
    {
        var factor = new double[size, size];
        var (solved, form) = (new double[size], 0.0);
        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[i, j];
                for (var k = 0; k < j; k++) sum -= factor[i, k] * factor[j, k];
                if (i != j) factor[i, j] = sum / factor[j, j];
                else if (sum > 1e-14 * matrix[i, i] && matrix[i, i] > 0) factor[i, i] = Math.Sqrt(sum);
                else throw new ArgumentException($"Group {i + 1} carries no information of its own.", nameof(matrix));
            }
            solved[i] = vector[i];
            for (var k = 0; k < i; k++) solved[i] -= factor[i, k] * solved[k];
            solved[i] /= factor[i, i];
            form += solved[i] * solved[i];
        }
        return form;
    }
}
