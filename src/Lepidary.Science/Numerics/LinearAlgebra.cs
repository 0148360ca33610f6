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

    /// <summary>Solves M·x = b by Gaussian elimination with row pivots; both are overwritten.</summary>
    /// <exception cref="ArgumentException">The matrix is singular.</exception>
    public static double[] Solve(double[,] matrix, double[] right)
    {
        var n = right.Length;
        for (var k = 0; k < n; k++)
        {
            var pivot = k;
            for (var i = k + 1; i < n; i++)
                if (Math.Abs(matrix[i, k]) > Math.Abs(matrix[pivot, k])) pivot = i;
            if (matrix[pivot, k] == 0) throw new ArgumentException("The matrix is singular.", nameof(matrix));
            if (pivot != k)
            {
                for (var j = k; j < n; j++) (matrix[k, j], matrix[pivot, j]) = (matrix[pivot, j], matrix[k, j]);
                (right[k], right[pivot]) = (right[pivot], right[k]);
            }
            for (var i = k + 1; i < n; i++)
            {
                var factor = matrix[i, k] / matrix[k, k];
                if (factor == 0) continue;
                for (var j = k; j < n; j++) matrix[i, j] -= factor * matrix[k, j];
                right[i] -= factor * right[k];
            }
        }
        for (var k = n - 1; k >= 0; k--)
        {
            for (var j = k + 1; j < n; j++) right[k] -= matrix[k, j] * right[j];
            right[k] /= matrix[k, k];
        }
        return right;
    }
}
