// SPDX-License-Identifier: GPL-3.0-or-later
// The median serves for times, because a person's log holds the odd interrupted flask; the mean for
// efficiencies, whose errors have no side.
#include "learn/statistics.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

double
learn_mean(const double *values, guint n)
{
    double sum = 0;
    for (guint i = 0; i < n; i++)
        sum += values[i];
    return n > 0 ? sum / n : NAN;
}

static int
compare_values(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double
learn_median(const double *values, guint n)
{
    if (n == 0)
        return NAN;
    g_autofree double *sorted = g_memdup2(values, n * sizeof *values);
    qsort(sorted, n, sizeof *sorted, compare_values);
    return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
}

double
learn_efficiency(double charge, double heat_content, double melt_time, double power,
                 double standing_loss)
{
    double into = charge * heat_content;
    double given = melt_time * (power - standing_loss);
    return into > 0 && given > 0 ? into / given : NAN;
}
