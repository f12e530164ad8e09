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
#include <stdlib.h>

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

guint
melt_warmup_tempers(const MeltWarmup *w)
{
    return w->temper > 0 && w->temper_at > w->ambient && w->temper_at < w->setpoint ? 1 : 0;
}

double
melt_warmup_time(const MeltWarmup *w)
{
    if (!is_complete(w))
        return NAN;
    return fmax(0, w->setpoint - w->ambient) / w->rate + melt_warmup_holds(w) * w->hold +
           (melt_warmup_tempers(w) ? w->temper : 0);
}

typedef struct {
    double at, length;
    gboolean tempers;
} Hold;

static int
compare_holds(const void *a, const void *b)
{
    const Hold *x = a, *y = b;
    return (x->at > y->at) - (x->at < y->at);
}

// The holds on the way, coolest first.
static guint
list_holds(const MeltWarmup *w, Hold holds[3])
{
    guint n = 0;
    for (guint i = 0; i < G_N_ELEMENTS(w->hold_at); i++)
        if (is_between(w, i))
            holds[n++] = (Hold){w->hold_at[i], w->hold, FALSE};
    if (melt_warmup_tempers(w))
        holds[n++] = (Hold){w->temper_at, w->temper, TRUE};
    qsort(holds, n, sizeof *holds, compare_holds);
    return n;
}

static MeltStep
make_hold(const MeltWarmup *w, double from, const Hold *hold, const UnitSet *units)
{
    g_autofree char *temperature = quantity_format(QUANTITY_TEMPERATURE, hold->at, units);
    g_autofree char *time = quantity_format(QUANTITY_TIME, hold->length, units);
    const char *words = hold->tempers ? _("Set %s and hold %s, as the crucible is new")
                                      : _("Set %s and hold %s");
    return (MeltStep){hold->at, (hold->at - from) / w->rate, hold->length,
                      g_strdup_printf(words, temperature, time)};
}

MeltStep *
melt_warmup_steps(const MeltWarmup *w, const UnitSet *units, guint *n_steps)
{
    *n_steps = 0;
    if (!is_complete(w) || !(w->setpoint > w->ambient))
        return NULL;
    Hold holds[3];
    guint n = list_holds(w, holds);
    MeltStep *steps = g_new0(MeltStep, n + 1);
    double at = w->ambient;
    for (guint i = 0; i < n; i++) {
        steps[i] = make_hold(w, at, &holds[i], units);
        at = holds[i].at;
    }
    g_autofree char *temperature = quantity_format(QUANTITY_TEMPERATURE, w->setpoint, units);
    steps[n] = (MeltStep){w->setpoint, (w->setpoint - at) / w->rate, 0.0,
                          g_strdup_printf(_("Set %s and charge when it is reached"), temperature)};
    *n_steps = n + 1;
    return steps;
}
