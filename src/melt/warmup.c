// SPDX-License-Identifier: GPL-3.0-or-later
// Warm-up steps: climb, hold, climb, hold, climb to the melting setpoint.
//
//   setpoint                      ___
//   hold_at[1]             _______/
//   hold_at[0]    ________/
//   ambient    __/
#include "melt/warmup.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static gboolean
is_complete(const MeltWarmup *w)
{
    return isfinite(w->ambient) && isfinite(w->hold_at[0]) && isfinite(w->hold_at[1]) &&
           isfinite(w->hold) && isfinite(w->setpoint) && isfinite(w->rate) && w->rate > 0;
}

static gboolean
is_between(const MeltWarmup *w, guint i)
{
    return w->hold_at[i] > w->ambient && w->hold_at[i] < w->setpoint;
}

guint
melt_warmup_holds(const MeltWarmup *w)
{
    return (is_between(w, 0) ? 1 : 0) + (is_between(w, 1) ? 1 : 0);
}

double
melt_warmup_time(const MeltWarmup *w)
{
    if (!is_complete(w))
        return NAN;
    return fmax(0, w->setpoint - w->ambient) / w->rate + melt_warmup_holds(w) * w->hold;
}

static MeltStep
make_hold(const MeltWarmup *w, double from, double to, const UnitSet *units)
{
    g_autofree char *temperature = quantity_format(QUANTITY_TEMPERATURE, to, units);
    g_autofree char *time = quantity_format(QUANTITY_TIME, w->hold, units);
    return (MeltStep){to, (to - from) / w->rate, w->hold,
                      g_strdup_printf(_("Set %s and hold %s"), temperature, time)};
}

MeltStep *
melt_warmup_steps(const MeltWarmup *w, const UnitSet *units, guint *n_steps)
{
    *n_steps = 0;
    if (!is_complete(w) || !(w->setpoint > w->ambient))
        return NULL;
    MeltStep *steps = g_new0(MeltStep, 3);
    guint n = 0;
    double at = w->ambient;
    for (guint i = 0; i < G_N_ELEMENTS(w->hold_at); i++) {
        if (!is_between(w, i))
            continue;
        steps[n++] = make_hold(w, at, w->hold_at[i], units);
        at = w->hold_at[i];
    }
    g_autofree char *temperature = quantity_format(QUANTITY_TEMPERATURE, w->setpoint, units);
    steps[n++] = (MeltStep){
        w->setpoint, (w->setpoint - at) / w->rate, 0.0,
        g_strdup_printf(_("Set %s and charge when it is reached"), temperature)};
    *n_steps = n;
    return steps;
}
