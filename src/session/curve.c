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

static GArray *
new_curve(void)
{
    GArray *curve = g_array_new(FALSE, FALSE, sizeof(SessionFurnacePoint));
    g_array_set_clear_func(curve, clear_point);
    return curve;
}

// A dip and a rise for each load of the first furnace, after a warm-up to `temperature`.
static void
add_load(GArray *curve, const SessionTask *task, double ambient, double pouring,
         double *temperature)
{
    if (task->furnace > 0)
        return;
    if (task->kind == TASK_CHARGE) {
        add_point(curve, task->start, *temperature, NULL);
        *temperature = MAX(*temperature - DIP * (pouring - ambient), ambient);
        add_point(curve, task->end, *temperature, NULL);
    } else if (task->kind == TASK_MELT) {
        *temperature = pouring;
        add_point(curve, task->end, *temperature, NULL);
    }
}

GArray *
session_curve_make(const SessionPlan *session, const MeltStep *warmup, guint n_warmup,
                   double ambient, double pouring)
{
    g_return_val_if_fail(session && (warmup || n_warmup == 0), NULL);
    GArray *curve = new_curve();
    add_point(curve, 0.0, ambient, NULL);
    double temperature = n_warmup > 0 ? warmup[n_warmup - 1].setpoint : ambient;
    for (guint i = 0; i < session->tasks->len; i++) {
        const SessionTask *task = &g_array_index(session->tasks, SessionTask, i);
        if (task->kind == TASK_WARM_UP && task->furnace <= 0)
            add_warmup(curve, warmup, n_warmup, task->start, ambient);
        else
            add_load(curve, task, ambient, pouring, &temperature);
    }
    add_cooling(curve, session->last_pour, session->length, ambient, pouring);
    return curve;
}

static const SessionTask *
find_warm_up(const SessionTask *tasks, guint n_tasks)
{
    for (guint i = 0; i < n_tasks; i++)
        if (tasks[i].kind == TASK_WARM_UP && tasks[i].furnace <= 0)
            return &tasks[i];
    return NULL;
}

// The points of the warm-up drawn before, at their share of it. Returns the last temperature.
static double
move_warmup(GArray *curve, const SessionResult *before, const SessionTask *was,
            const SessionTask *is)
{
    double temperature = before->curve[0].temperature;
    double share = was->end > was->start ? (is->end - is->start) / (was->end - was->start) : 0.0;
    for (guint i = 0; i < before->n_curve; i++) {
        const SessionFurnacePoint *point = &before->curve[i];
        if (point->at < was->start - 1e-6 || point->at > was->end + 1e-6 || i == 0)
            continue;
        // A charge that follows at once begins with a point of its own.
        if (i + 1 < before->n_curve && point->at > was->end - 1e-6 && curve->len > 1 &&
            point->temperature < temperature)
            break;
        temperature = point->temperature;
        add_point(curve, is->start + share * (point->at - was->start), temperature, point->prompt);
    }
    return temperature;
}

GArray *
session_curve_again(const SessionResult *before, const SessionTask *tasks, guint n_tasks,
                    double last_pour, double length)
{
    g_return_val_if_fail(before && (tasks || n_tasks == 0), NULL);
    GArray *curve = new_curve();
    const SessionTask *was = find_warm_up(before->tasks, before->n_tasks);
    const SessionTask *is = find_warm_up(tasks, n_tasks);
    if (before->n_curve == 0 || !was || !is)
        return curve;
    double ambient = before->curve[0].temperature, pouring = ambient;
    for (guint i = 0; i < before->n_curve; i++)
        pouring = MAX(pouring, before->curve[i].temperature);
    add_point(curve, 0.0, ambient, NULL);
    double temperature = move_warmup(curve, before, was, is);
    for (guint i = 0; i < n_tasks; i++)
        if (tasks[i].kind != TASK_WARM_UP)
            add_load(curve, &tasks[i], ambient, pouring, &temperature);
    add_cooling(curve, last_pour, length, ambient, pouring);
    // True times may overlap where planned ones do not; the curve goes forward all the same.
    for (guint i = 1; i < curve->len; i++) {
        SessionFurnacePoint *point = &g_array_index(curve, SessionFurnacePoint, i);
        point->at = MAX(point->at, point[-1].at);
    }
    return curve;
}
