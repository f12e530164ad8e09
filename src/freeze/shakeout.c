// SPDX-License-Identifier: GPL-3.0-or-later
// Cooling to shake-out in one dimension: a column of metal, closed at its middle, on a column of
// sand long enough that heat does not reach its end.
#include "freeze/shakeout.h"

#include <math.h>

#include "base/error.h"

#define METAL_CELLS 8
#define MOST_CELLS 4000
#define LONGEST (28 * 86400.0)

// Runs a column with sand for `reach` s. The time, INFINITY when it is not cold by then, NAN when
// stopped.
static double
run_column(const FreezeMaterials *m, double modulus, double end, double reach, Progress *progress,
           GError **error)
{
    double cell = modulus / METAL_CELLS;
    double far = 4 * sqrt(m->sand_conductivity / (m->sand_density * m->sand_specific) * reach);
    int sand = (int)ceil(MIN(far / cell, MOST_CELLS)) + 2, n = sand + METAL_CELLS;
    g_autofree float *share = g_new0(float, n);
    for (int i = sand; i < n; i++)
        share[i] = 1;
    double edge[6] = {m->ambient, NAN, NAN, NAN, NAN, NAN};
    g_autoptr(FreezeHeat) heat = freeze_heat_new(n, 1, 1, cell, share, m, edge, error);
    if (!heat)
        return NAN;
    double time = 0, hottest = m->pour;
    while (hottest > end) {
        if (time >= reach)
            return INFINITY;
        if (!freeze_heat_step(heat, INFINITY, progress, error))
            return NAN;
        double now = freeze_heat_temperature(heat, n - 1), at = freeze_heat_time(heat);
        // Straight between two steps.
        if (now <= end)
            return time + (at - time) * (hottest - end) / (hottest - now);
        hottest = now;
        time = at;
    }
    return time;
}

double
freeze_shakeout_time(const FreezeMaterials *materials, double modulus, double end,
                     Progress *progress, GError **error)
{
    g_return_val_if_fail(materials != NULL, NAN);
    if (!(modulus > 0) || !isfinite(modulus) || !(end > materials->ambient)) {
        base_error_set(error, BASE_ERROR_VALUE, NULL, "shake-out",
                       "the casting never gets colder than the sand",
                       "set the shake-out temperature above the shop's");
        return NAN;
    }
    // First guess: ten times what the metal's heat over the sand's grip suggests.
    double heat = materials->density * modulus *
                  (materials->latent + materials->cp_liquid * (materials->pour - end));
    double grip = sqrt(materials->sand_conductivity * materials->sand_density *
                       materials->sand_specific) *
                  (end - materials->ambient);
    double reach = heat * heat / (grip * grip);
    if (!isfinite(reach)) // something is missing; the solver says what
        reach = 1;
    for (; reach < LONGEST * 4; reach *= 4) {
        double time = run_column(materials, modulus, end, reach, progress, error);
        if (!isinf(time))
            return time;
    }
    base_error_set(error, BASE_ERROR_VALUE, NULL, "shake-out",
                   "the casting takes longer than four weeks to cool",
                   "raise the shake-out temperature");
    return NAN;
}
