// SPDX-License-Identifier: GPL-3.0-or-later
// Intervals for a rate. The quantile is found by halving on GSL's cumulative beta rather than with
// its own inverse, which does not converge for some shapes a log can give (135 good of 135).
#include "session/interval.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>

// GSL ends the program on an error unless told not to; it answers NAN then.
static void
quieten_gsl(void)
{
    static gsize done = 0;
    if (g_once_init_enter(&done)) {
        gsl_set_error_handler_off();
        g_once_init_leave(&done, 1);
    }
}

double
session_beta_quantile(double chance, double a, double b)
{
    if (!(a > 0.0 && b > 0.0 && chance >= 0.0 && chance <= 1.0))
        return NAN;
    quieten_gsl();
    double low = 0.0, high = 1.0;
    if (chance == 0.0)
        return low;
    if (chance == 1.0)
        return high;
    // Doubles are dense near 0, so halving goes on until the middle is one of the ends.
    for (int i = 0; i < 1100; i++) {
        double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high)
            break;
        double below = gsl_cdf_beta_P(middle, a, b);
        if (isnan(below))
            return NAN;
        if (below < chance)
            low = middle;
        else
            high = middle;
    }
    return high;
}

static gboolean
is_askable(guint good, guint poured, double level)
{
    return poured > 0 && good <= poured && level > 0.0 && level < 1.0;
}

gboolean
session_interval_exact(guint good, guint poured, double level, double *low, double *high)
{
    g_return_val_if_fail(low && high, FALSE);
    if (!is_askable(good, poured, level))
        return FALSE;
    double tail = 0.5 * (1.0 - level), bad = (double)poured - good;
    double from = good == 0 ? 0.0 : session_beta_quantile(tail, good, bad + 1.0);
    double to = good == poured ? 1.0 : session_beta_quantile(1.0 - tail, good + 1.0, bad);
    if (isnan(from) || isnan(to))
        return FALSE;
    *low = from;
    *high = to;
    return TRUE;
}

gboolean
session_interval_jeffreys(guint good, guint poured, double level, double *low, double *high)
{
    g_return_val_if_fail(low && high, FALSE);
    if (!is_askable(good, poured, level))
        return FALSE;
    double tail = 0.5 * (1.0 - level), bad = (double)poured - good;
    double from = session_beta_quantile(tail, good + 0.5, bad + 0.5);
    double to = session_beta_quantile(1.0 - tail, good + 0.5, bad + 0.5);
    if (isnan(from) || isnan(to))
        return FALSE;
    *low = from;
    *high = to;
    return TRUE;
}
