// SPDX-License-Identifier: GPL-3.0-or-later
// The temperature of each furnace over a session.
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

// The curve of one furnace as it is drawn.
typedef struct {
    GArray *points;
    int furnace;
    const char *name;        // NULL: the only one
    double ambient, pouring; // deg C
    double temperature;      // deg C, of the last point
} Pen;

static void
clear_point(gpointer data)
{
    g_free(((SessionFurnacePoint *)data)->prompt);
}

static GArray *
new_curve(void)
{
    GArray *curve = g_array_new(FALSE, FALSE, sizeof(SessionFurnacePoint));
    g_array_set_clear_func(curve, clear_point);
    return curve;
}

static void
add_point(Pen *pen, double at, double temperature, const char *prompt)
{
    SessionFurnacePoint point = {
        .at = at, .temperature = temperature, .prompt = g_strdup(prompt), .furnace = pen->furnace};
    g_array_append_val(pen->points, point);
    pen->temperature = temperature;
}

// The prompt says which furnace to turn, where there are several.
static void
add_prompt(Pen *pen, double at, double temperature, const char *prompt)
{
    // TRANSLATORS: name of a furnace, and what to set it to
    g_autofree char *named = pen->name ? g_strdup_printf(_("%s: %s"), pen->name, prompt) : NULL;
    add_point(pen, at, temperature, named ? named : prompt);
}

static void
add_warmup(Pen *pen, const MeltStep *warmup, guint n_warmup, double start)
{
    double at = start;
    for (guint i = 0; i < n_warmup; i++) {
        add_prompt(pen, at, pen->temperature, warmup[i].prompt);
        at += warmup[i].ramp;
        if (warmup[i].hold > 0.0) {
            add_point(pen, at, warmup[i].setpoint, NULL);
            at += warmup[i].hold;
        }
        pen->temperature = warmup[i].setpoint;
    }
    if (n_warmup == 0)
        add_point(pen, at, pen->temperature, NULL);
    add_point(pen, at, pen->temperature, NULL);
}

static double
cool(const Pen *pen, double time)
{
    return pen->ambient + (pen->pouring - pen->ambient) * exp(-time / COOLING);
}

static void
add_cooling(Pen *pen, double from, double to)
{
    add_prompt(pen, from, pen->pouring, _("Switch off, lid on, let it cool slowly"));
    for (double at = from + COOLING_STEP; at < to; at += COOLING_STEP)
        add_point(pen, at, cool(pen, at - from), NULL);
    if (to > from)
        add_point(pen, to, cool(pen, to - from), NULL);
}

// A dip for each charge and a rise for each melt.
static void
add_load(Pen *pen, const SessionTask *task)
{
    if (task->kind == TASK_CHARGE) {
        add_point(pen, task->start, pen->temperature, NULL);
        double dipped = pen->temperature - DIP * (pen->pouring - pen->ambient);
        add_point(pen, task->end, MAX(dipped, pen->ambient), NULL);
    } else if (task->kind == TASK_MELT) {
        add_point(pen, task->end, pen->pouring, NULL);
    }
}

// A task that does not say which furnace it takes takes the first.
static gboolean
is_of(const SessionTask *task, int furnace)
{
    gboolean heats = task->kind == TASK_WARM_UP || task->kind == TASK_CHARGE ||
                     task->kind == TASK_MELT || task->kind == TASK_SKIM || task->kind == TASK_POUR;
    return heats && MAX(task->furnace, 0) == furnace;
}

// When a furnace is switched off: after its last pour. NAN when it is not used.
static double
find_off(const SessionTask *tasks, guint n_tasks, int furnace)
{
    double off = NAN;
    for (guint i = 0; i < n_tasks; i++)
        if (is_of(&tasks[i], furnace))
            off = fmax(off, tasks[i].end);
    return off;
}

static gint
compare_points(gconstpointer a, gconstpointer b, gpointer data)
{
    const SessionFurnacePoint *p = a, *q = b;
    return p->at != q->at ? (p->at < q->at ? -1 : 1) : p->furnace - q->furnace;
}

void
session_curve_sort(SessionFurnacePoint *points, guint n)
{
    g_return_if_fail(points || n == 0);
    g_qsort_with_data(points, (gint)n, sizeof *points, compare_points, NULL);
}

GArray *
session_curve_make(const SessionPlan *session, const SessionHeat *heats, guint n_heats,
                   double ambient)
{
    g_return_val_if_fail(session && (heats || n_heats == 0), NULL);
    const SessionTask *tasks = (const SessionTask *)(gpointer)session->tasks->data;
    GArray *curve = new_curve();
    for (guint f = 0; f < n_heats; f++) {
        const SessionHeat *heat = &heats[f];
        Pen pen = {curve, (int)f, n_heats > 1 ? heat->name : NULL, ambient, heat->pouring, ambient};
        double off = find_off(tasks, session->tasks->len, pen.furnace);
        if (isnan(off))
            continue;
        add_point(&pen, 0.0, ambient, NULL);
        for (guint i = 0; i < session->tasks->len; i++) {
            if (!is_of(&tasks[i], pen.furnace))
                continue;
            if (tasks[i].kind == TASK_WARM_UP)
                add_warmup(&pen, heat->warmup, heat->n_warmup, tasks[i].start);
            else
                add_load(&pen, &tasks[i]);
        }
        add_cooling(&pen, off, session->length);
    }
    session_curve_sort((SessionFurnacePoint *)(gpointer)curve->data, curve->len);
    return curve;
}

static const SessionTask *
find_warm_up(const SessionTask *tasks, guint n_tasks, int furnace)
{
    for (guint i = 0; i < n_tasks; i++)
        if (tasks[i].kind == TASK_WARM_UP && is_of(&tasks[i], furnace))
            return &tasks[i];
    return NULL;
}

static GPtrArray *
list_points(const SessionResult *session, int furnace)
{
    GPtrArray *points = g_ptr_array_new();
    for (guint i = 0; i < session->n_curve; i++)
        if (session->curve[i].furnace == furnace)
            g_ptr_array_add(points, &session->curve[i]);
    return points;
}

// The points of the warm-up drawn before, at their share of it.
static void
move_warmup(Pen *pen, const GPtrArray *points, const SessionTask *was, const SessionTask *is)
{
    double share = was->end > was->start ? (is->end - is->start) / (was->end - was->start) : 0.0;
    for (guint i = 1; i < points->len; i++) {
        const SessionFurnacePoint *point = g_ptr_array_index(points, i);
        if (point->at < was->start - 1e-6 || point->at > was->end + 1e-6)
            continue;
        // A charge that follows at once begins with a point of its own.
        if (i + 1 < points->len && point->at > was->end - 1e-6 &&
            point->temperature < pen->temperature)
            break;
        add_point(pen, is->start + share * (point->at - was->start), point->temperature,
                  point->prompt);
    }
}

// The curve of one furnace; nothing when it had none or is not used any more.
static void
draw_again(GArray *curve, const SessionResult *before, int furnace, const SessionTask *tasks,
           guint n_tasks, double length)
{
    g_autoptr(GPtrArray) points = list_points(before, furnace);
    const SessionTask *was = find_warm_up(before->tasks, before->n_tasks, furnace);
    const SessionTask *is = find_warm_up(tasks, n_tasks, furnace);
    if (points->len == 0 || !was || !is)
        return;
    double ambient = ((const SessionFurnacePoint *)g_ptr_array_index(points, 0))->temperature;
    Pen pen = {curve, furnace, session_furnace_name(before, furnace), ambient, ambient, ambient};
    for (guint i = 0; i < points->len; i++) {
        const SessionFurnacePoint *point = g_ptr_array_index(points, i);
        pen.pouring = MAX(pen.pouring, point->temperature);
    }
    guint first = curve->len;
    add_point(&pen, 0.0, ambient, NULL);
    move_warmup(&pen, points, was, is);
    for (guint i = 0; i < n_tasks; i++)
        if (is_of(&tasks[i], furnace))
            add_load(&pen, &tasks[i]);
    add_cooling(&pen, find_off(tasks, n_tasks, furnace), length);
    // True times may overlap where planned ones do not; the curve goes forward all the same.
    for (guint i = first + 1; i < curve->len; i++) {
        SessionFurnacePoint *point = &g_array_index(curve, SessionFurnacePoint, i);
        point->at = MAX(point->at, point[-1].at);
    }
}

GArray *
session_curve_again(const SessionResult *before, const SessionTask *tasks, guint n_tasks,
                    double length)
{
    g_return_val_if_fail(before && (tasks || n_tasks == 0), NULL);
    GArray *curve = new_curve();
    for (int f = 0; f < SESSION_MOST_FURNACES; f++)
        draw_again(curve, before, f, tasks, n_tasks, length);
    session_curve_sort((SessionFurnacePoint *)(gpointer)curve->data, curve->len);
    return curve;
}
