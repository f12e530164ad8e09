// SPDX-License-Identifier: GPL-3.0-or-later
// Principal axes by Jacobi's method: turn in the plane of the largest element beside the diagonal
// until nothing is left there (Jacobi, "Ueber ein leichtes Verfahren die in der Theorie der
// Saecularstoerungen vorkommenden Gleichungen numerisch aufzuloesen", 1846).
#include "solid/inertia.h"

// One turn in the plane p, q that makes m[p][q] zero; the axes are the columns of v.
static void
turn(double m[3][3], double v[3][3], int p, int q)
{
    double theta = (m[q][q] - m[p][p]) / (2 * m[p][q]);
    double t = (theta >= 0 ? 1 : -1) / (fabs(theta) + sqrt(theta * theta + 1));
    double c = 1 / sqrt(t * t + 1), s = t * c;
    for (int k = 0; k < 3; k++) {
        double a = m[k][p], b = m[k][q];
        m[k][p] = c * a - s * b;
        m[k][q] = s * a + c * b;
    }
    for (int k = 0; k < 3; k++) {
        double a = m[p][k], b = m[q][k];
        m[p][k] = c * a - s * b;
        m[q][k] = s * a + c * b;
    }
    for (int k = 0; k < 3; k++) {
        double a = v[k][p], b = v[k][q];
        v[k][p] = c * a - s * b;
        v[k][q] = s * a + c * b;
    }
    m[p][q] = m[q][p] = 0;
}

static Vec3
with_sign(Vec3 a)
{
    double x = fabs(a.x), y = fabs(a.y), z = fabs(a.z);
    double largest = x >= y && x >= z ? a.x : y >= z ? a.y : a.z;
    return largest < 0 ? vec3_scale(a, -1) : a;
}

void
solid_principal_axes(const double matrix[3][3], double values[3], Vec3 axes[3])
{
    double m[3][3], v[3][3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    int order[3] = {0, 1, 2};
    double size = 0;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            m[i][j] = matrix[i][j];
            size = fmax(size, fabs(m[i][j]));
        }
    for (int sweep = 0; sweep < 64; sweep++) {
        int p = 0, q = 1;
        if (fabs(m[0][2]) > fabs(m[p][q]))
            q = 2;
        if (fabs(m[1][2]) > fabs(m[p][q]))
            p = 1, q = 2;
        if (!(fabs(m[p][q]) > 1e-17 * size))
            break;
        turn(m, v, p, q);
    }
    for (int i = 0; i < 2; i++) // three values: two rounds of neighbours put them in order
        for (int j = 0; j < 2; j++)
            if (m[order[j]][order[j]] > m[order[j + 1]][order[j + 1]]) {
                int o = order[j];
                order[j] = order[j + 1];
                order[j + 1] = o;
            }
    for (int i = 0; i < 3; i++) {
        values[i] = m[order[i]][order[i]];
        axes[i] = with_sign(vec3(v[0][order[i]], v[1][order[i]], v[2][order[i]]));
    }
    axes[2] = vec3_cross(axes[0], axes[1]);
}
