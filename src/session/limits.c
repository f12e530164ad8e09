// SPDX-License-Identifier: GPL-3.0-or-later
// Limits of a floor, to and fro.
#include "session/limits.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

SessionLimits *
session_limits_new(guint n_sand, guint n_pins)
{
    SessionLimits *limits = g_atomic_rc_box_new0(SessionLimits);
    limits->sand_ready = limits->light_to = INFINITY;
    limits->sand = g_new0(double, n_sand + 1);
    limits->n_sand = n_sand;
    limits->pins = g_new0(SessionPin, n_pins + 1);
    limits->n_pins = n_pins;
    return limits;
}

const SessionLimits *
session_limits_of(const SessionFloor *floor)
{
    g_return_val_if_fail(floor, NULL);
    gboolean dark = floor->light_from > 0.0 || isfinite(floor->light_to);
    int jobs = 0;
    if (!dark && !isfinite(floor->sand_ready) && floor->n_pins == 0)
        return NULL;
    for (int k = 0; k < floor->n_kinds; k++)
        jobs = MAX(jobs, floor->kinds[k].job + 1);
    SessionLimits *limits = session_limits_new((guint)jobs, floor->n_pins);
    limits->sand_ready = floor->sand_ready;
    limits->sand_rest = floor->sand_rest;
    limits->light_from = floor->light_from;
    limits->light_to = floor->light_to;
    for (int k = 0; k < floor->n_kinds; k++)
        if (floor->kinds[k].job >= 0)
            limits->sand[floor->kinds[k].job] = floor->kinds[k].sand;
    for (guint i = 0; i < floor->n_pins; i++)
        limits->pins[i] = floor->pins[i];
    return limits;
}

static SessionLimits *
copy_limits(const SessionLimits *limits, guint n_sand)
{
    SessionLimits *copy = session_limits_new(n_sand, limits->n_pins);
    copy->sand_ready = limits->sand_ready;
    copy->sand_rest = limits->sand_rest;
    copy->light_from = limits->light_from;
    copy->light_to = limits->light_to;
    memcpy(copy->pins, limits->pins, sizeof *limits->pins * limits->n_pins);
    return copy;
}

const SessionLimits *
session_limits_lit(const SessionLimits *limits, const SessionLight *light)
{
    g_return_val_if_fail(light, NULL);
    if (!limits && light->from <= 0.0 && !isfinite(light->to))
        return NULL;
    SessionLimits *lit = limits ? copy_limits(limits, limits->n_sand) : session_limits_new(0, 0);
    if (limits)
        memcpy(lit->sand, limits->sand, sizeof *limits->sand * limits->n_sand);
    lit->light_from = light->from;
    lit->light_to = light->to;
    return lit;
}

const SessionLimits *
session_limits_of_jobs(const SessionLimits *limits, const int *place, guint n_jobs)
{
    g_return_val_if_fail(place, NULL);
    if (!limits)
        return NULL;
    SessionLimits *anew = copy_limits(limits, n_jobs);
    for (guint i = 0; i < limits->n_sand; i++)
        if (place[i] >= 0 && place[i] < (int)n_jobs)
            anew->sand[place[i]] = limits->sand[i];
    return anew;
}

static void
clear_limits(gpointer data)
{
    SessionLimits *limits = data;
    g_free(limits->sand);
    g_free(limits->pins);
}

const SessionLimits *
session_limits_ref(const SessionLimits *limits)
{
    return limits ? g_atomic_rc_box_acquire((SessionLimits *)limits) : NULL;
}

void
session_limits_unref(const SessionLimits *limits)
{
    if (limits)
        g_atomic_rc_box_release_full((SessionLimits *)limits, clear_limits);
}

void
session_limits_put(const SessionLimits *limits, SessionFloor *floor)
{
    g_return_if_fail(floor);
    if (!limits)
        return;
    floor->sand_ready = limits->sand_ready;
    floor->sand_rest = limits->sand_rest;
    floor->light_from = limits->light_from;
    floor->light_to = limits->light_to;
    floor->pins = limits->pins;
    floor->n_pins = limits->n_pins;
    for (int k = 0; k < floor->n_kinds; k++) {
        int job = floor->kinds[k].job;
        if (job >= 0 && job < (int)limits->n_sand)
            floor->kinds[k].sand = limits->sand[job];
    }
}

typedef struct {
    double at, kg; // kg taken, or given back below 0
} Change;

// Sand given back counts before sand taken at the same moment.
static gint
compare_changes(gconstpointer a, gconstpointer b)
{
    const Change *x = a, *y = b;
    if (x->at != y->at)
        return x->at < y->at ? -1 : 1;
    return (x->kg > y->kg) - (x->kg < y->kg);
}

double
session_sand_most(const SessionTask *tasks, guint n, const double *sand, double rest)
{
    g_return_val_if_fail(sand && (tasks || n == 0), NAN);
    g_autoptr(GArray) changes = g_array_new(FALSE, FALSE, sizeof(Change));
    for (guint i = 0; i < n; i++) {
        const SessionTask *task = &tasks[i];
        Change take = {task->start, task->job >= 0 ? sand[task->job] : 0.0};
        Change give = {task->end + rest, -take.kg};
        if (task->kind == TASK_RAM_DRAG)
            g_array_append_val(changes, take);
        else if (task->kind == TASK_SHAKE_OUT)
            g_array_append_val(changes, give);
    }
    g_array_sort(changes, compare_changes);
    double out = 0.0, most = 0.0;
    for (guint i = 0; i < changes->len; i++) {
        out += g_array_index(changes, Change, i).kg;
        most = MAX(most, out);
    }
    return most;
}

double
session_dark_time(const SessionTask *tasks, guint n, double light_from, double light_to)
{
    g_return_val_if_fail(tasks || n == 0, NAN);
    double dark = 0.0;
    for (guint i = 0; i < n; i++) {
        const SessionTask *task = &tasks[i];
        if (!task->person || task->kind == TASK_SET_UP || task->kind == TASK_CLOSE)
            continue;
        double lit = MIN(task->end, light_to) - MAX(task->start, light_from);
        dark += task->end - task->start - MAX(lit, 0.0);
    }
    // Sums of starts and ends round.
    return dark < 1e-6 ? 0.0 : dark;
}

char *
session_result_caution(const SessionResult *result)
{
    g_return_val_if_fail(result, NULL);
    if (result->past_light && result->past_sand)
        return g_strdup(_("The rest fits neither into the daylight nor to the sand: it is planned "
                          "as if there were lamps and sand enough."));
    if (result->past_light)
        return g_strdup(_("The rest does not fit into the daylight any more: it is planned as if "
                          "there were lamps."));
    if (result->past_sand)
        return g_strdup(_("The sand does not suffice for the rest: it is planned as if there were "
                          "enough; condition more."));
    return NULL;
}
