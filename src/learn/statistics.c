// SPDX-License-Identifier: GPL-3.0-or-later
// The median serves for times, because a person's log holds the odd interrupted flask.
#include "learn/statistics.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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
