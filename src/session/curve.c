// SPDX-License-Identifier: GPL-3.0-or-later
// The furnace's temperature over a session.
//
//   pouring          _____      ___      ____
//              hold /     \____/   \____/    \..
//            _____/    charge   charge        off, cools slowly
//   shop ___/
#include "session/curve.h"

#include <glib/gi18n-lib.h>
#include <math.h>

// How far a cold charge pulls the chamber down, as a share of the rise over the shop, and how fast
// a lidded furnace cools: common practice without a source, for the drawing.
#define DIP 0.25
#define COOLING 7200.0
#define COOLING_STEP 900.0

static void
clear_point(gpointer data)
{
    g_free(((SessionFurnacePoint *)data)->prompt);
}

static void
add_point(GArray *curve, double at, double temperature, const char *prompt)
{
    SessionFurnacePoint point = {.at = at, .temperature = temperature, .prompt = g_strdup(prompt)};
    g_array_append_val(curve, point);
}

// Returns the time at which the warm-up ends.
static double
add_warmup(GArray *curve, const MeltStep *warmup, guint n_warmup, double start, double ambient)
{
    double at = start, temperature = ambient;
    for (guint i = 0; i < n_warmup; i++) {
        add_point(curve, at, temperature, warmup[i].prompt);
        temperature = warmup[i].setpoint;
        at += warmup[i].ramp;
        if (warmup[i].hold > 0.0) {
            add_point(curve, at, temperature, NULL);
            at += warmup[i].hold;
        }
    }
    if (n_warmup == 0)
        add_point(curve, at, temperature, NULL);
    add_point(curve, at, temperature, NULL);
    return at;
}

static void
add_cooling(GArray *curve, double from, double to, double ambient, double pouring)
{
    add_point(curve, from, pouring, _("Switch off, lid on, let it cool slowly"));
    for (double at = from + COOLING_STEP; at < to; at += COOLING_STEP)
        add_point(curve, at, ambient + (pouring - ambient) * exp((from - at) / COOLING), NULL);
    if (to > from)
        add_point(curve, to, ambient + (pouring - ambient) * exp((from - to) / COOLING), NULL);
}

GArray *
session_curve_make(const SessionPlan *session, const MeltStep *warmup, guint n_warmup,
                   double ambient, double pouring)
{
    g_return_val_if_fail(session && (warmup || n_warmup == 0), NULL);
    GArray *curve = g_array_new(FALSE, FALSE, sizeof(SessionFurnacePoint));
    g_array_set_clear_func(curve, clear_point);
    add_point(curve, 0.0, ambient, NULL);
    double temperature = n_warmup > 0 ? warmup[n_warmup - 1].setpoint : ambient;
    for (guint i = 0; i < session->tasks->len; i++) {
        const SessionTask *task = &g_array_index(session->tasks, SessionTask, i);
        if (task->kind == TASK_WARM_UP) {
            add_warmup(curve, warmup, n_warmup, task->start, ambient);
        } else if (task->kind == TASK_CHARGE) {
            add_point(curve, task->start, temperature, NULL);
            temperature = MAX(temperature - DIP * (pouring - ambient), ambient);
            add_point(curve, task->end, temperature, NULL);
        } else if (task->kind == TASK_MELT) {
            temperature = pouring;
            add_point(curve, task->end, temperature, NULL);
        }
    }
    add_cooling(curve, session->last_pour, session->length, ambient, pouring);
    return curve;
}
