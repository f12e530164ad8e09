// SPDX-License-Identifier: GPL-3.0-or-later
// The loads of a session as blocks from charging to the last pour, each holding the moulds it
// fills. Loads of different furnaces overlap in time and have a lane for each furnace.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/timeline-kit.h"

#define INSET 2.0
#define LEAST_CELL 4.0

#define MOST_LOADS 4000

static gboolean
is_pour(const SessionTask *task)
{
    return task->kind == TASK_POUR && task->flask >= 0;
}

void
timeline_chart_load(TimelineChart *chart)
{
    const SessionResult *session = chart->session;
    int most = session->loads;
    for (guint i = 0; i < session->n_tasks; i++)
        most = MAX(most, MIN(session->tasks[i].load, MOST_LOADS) + 1);
    chart->n_loads = (guint)CLAMP(most, 0, MOST_LOADS);
    chart->loads = g_new(TimelineLoad, chart->n_loads + 1);
    chart->pour_place = g_new0(guint, session->n_tasks + 1);
    for (guint i = 0; i < chart->n_loads; i++)
        chart->loads[i] = (TimelineLoad){INFINITY, -INFINITY, 0, 0};
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *task = &session->tasks[i];
        gboolean counts = task->kind == TASK_CHARGE || task->kind == TASK_MELT ||
                          task->kind == TASK_SKIM || task->kind == TASK_POUR;
        if (task->load < 0 || task->load >= most || !counts || !timeline_is_drawn(task))
            continue;
        TimelineLoad *load = &chart->loads[task->load];
        load->start = fmin(load->start, task->start);
        load->end = fmax(load->end, task->end);
        load->furnace = MAX(load->furnace, task->furnace);
        if (is_pour(task))
            chart->pour_place[i] = load->n_pours++;
    }
}

guint
timeline_load_lanes(const TimelineChart *chart)
{
    guint lanes = 0;
    for (guint i = 0; i < chart->n_rows; i++)
        lanes += chart->rows[i].kind == TIMELINE_FURNACE;
    return MAX(1, lanes);
}

char *
timeline_lane_label(guint lane, guint n_lanes)
{
    return n_lanes == 1 ? g_strdup(_("Loads")) : g_strdup_printf(_("Loads %u"), lane + 1);
}

static double
find_top(const TimelineFrame *f, int furnace)
{
    return f->loads + CLAMP(furnace, 0, (int)f->n_load_lanes - 1) * f->load_step;
}

// Cells stand in the right half of the block of their load, in the order of the pours.
static void
place_cell(const TimelineFrame *f, const TimelineLoad *load, guint index, double *from, double *to)
{
    double x0 = timeline_x(f, load->start), x1 = timeline_x(f, load->end);
    double left = x0 + fmin(48.0, (x1 - x0) * 0.4);
    double step = (x1 - INSET - left) / load->n_pours;
    *from = left + index * step;
    *to = *from + fmax(step - fmin(INSET, step * 0.3), 1.0);
}

gboolean
timeline_cell_box(const TimelineChart *chart, const TimelineFrame *f, guint task, SolidPoint *min,
                  SolidPoint *max)
{
    const SessionTask *t = &chart->session->tasks[task];
    if (!is_pour(t) || !timeline_is_drawn(t) || t->load < 0 || (guint)t->load >= chart->n_loads)
        return FALSE;
    const TimelineLoad *load = &chart->loads[t->load];
    double from, to, top = find_top(f, load->furnace);
    place_cell(f, load, chart->pour_place[task], &from, &to);
    if (to < f->left || from > f->right || to - from < LEAST_CELL / 2.0)
        return FALSE;
    *min = (SolidPoint){fmax(from, f->left), top + INSET};
    *max = (SolidPoint){fmin(to, f->right), top + f->load_step - 2.0 - INSET};
    return TRUE;
}

static void
draw_cell(TimelineDraft *d, const char *id, const TimelineLoad *load, guint index, int flask)
{
    const TimelineFrame *f = &d->frame;
    double from, to, top = find_top(f, load->furnace) + INSET, height;
    place_cell(f, load, index, &from, &to);
    if (to < f->left || from > f->right || to - from < LEAST_CELL / 2.0)
        return;
    from = fmax(from, f->left);
    to = fmin(to, f->right);
    height = f->load_step - 2.0 - 2.0 * INSET;
    scene_add_rectangle(d->scene, ROLE_POUR, TIMELINE_ORDER_CELL, id, TRUE, TRUE, from, top,
                        to - from, height);
    g_autofree char *words = g_strdup_printf(_("Mould %d"), flask + 1);
    g_autofree char *number = g_strdup_printf("%d", flask + 1);
    const char *texts[] = {words, number};
    for (guint i = 0; to - from > 6.0 && i < 2; i++) {
        if (timeline_width(d->layout, texts[i], TIMELINE_TEXT - 1.0, FALSE) > to - from - 3.0)
            continue;
        timeline_rimmed_text(d, ROLE_TEXT, id, (from + to) / 2.0, top + height / 2.0,
                             TIMELINE_TEXT - 1.0, ALIGN_MIDDLE, texts[i]);
        return;
    }
}

static void
describe_load(TimelineDraft *d, const char *id, const char *label, const TimelineLoad *load)
{
    g_autofree char *from = timeline_clock(load->start);
    g_autofree char *to = timeline_clock(load->end);
    g_autofree char *words = g_strdup_printf(
        ngettext("%s to %s; fills %u flask", "%s to %s; fills %u flasks", load->n_pours), from, to,
        load->n_pours);
    scene_add_part(d->scene, id, label, words, "melt.flasks_per_load");
}

static void
draw_load(TimelineDraft *d, int number, const TimelineLoad *load)
{
    const TimelineFrame *f = &d->frame;
    double x0 = fmax(timeline_x(f, load->start), f->left);
    double x1 = fmin(timeline_x(f, load->end), f->right);
    if (!(x1 > x0))
        return;
    g_autofree char *id = g_strdup_printf("load-%d", number + 1);
    g_autofree char *label = g_strdup_printf(_("Load %d"), number + 1);
    if (d->look->parts)
        describe_load(d, id, label, load);
    double top = find_top(f, load->furnace), height = f->load_step - 2.0;
    scene_add_rectangle(d->scene, ROLE_MELT, TIMELINE_ORDER_BLOCK, id, TRUE, TRUE, x0, top, x1 - x0,
                        height);
    double cells = x1;
    if (load->n_pours > 0) {
        double to;
        place_cell(f, load, 0, &cells, &to);
    }
    double room = fmin(cells, x1) - x0 - 4.0;
    g_autofree char *code = g_strdup_printf("%d", number + 1);
    const char *texts[] = {label, code};
    for (guint i = 0; i < 2; i++) {
        if (timeline_width(d->layout, texts[i], TIMELINE_TEXT - 1.0, FALSE) > room)
            continue;
        timeline_rimmed_text(d, ROLE_TEXT, id, x0 + 2.0 + room / 2.0, top + height / 2.0,
                             TIMELINE_TEXT - 1.0, ALIGN_MIDDLE, texts[i]);
        return;
    }
}

void
timeline_loads(TimelineDraft *d)
{
    const TimelineFrame *f = &d->frame;
    for (guint lane = 0; lane < f->n_load_lanes; lane++) {
        double top = f->loads + lane * f->load_step, height = f->load_step - 2.0;
        g_autofree char *label = timeline_lane_label(lane, f->n_load_lanes);
        scene_add_rectangle(d->scene, ROLE_GRID, TIMELINE_ORDER_BAND, NULL, TRUE, FALSE, f->left,
                            top, f->right - f->left, height);
        timeline_text(d, ROLE_TEXT, NULL, f->left - 6.0, top + height / 2.0, TIMELINE_TEXT,
                      ALIGN_END, label);
    }
    for (guint i = 0; i < d->chart->n_loads; i++)
        if (d->chart->loads[i].end > d->chart->loads[i].start)
            draw_load(d, (int)i, &d->chart->loads[i]);
    for (guint i = 0; i < d->chart->session->n_tasks; i++) {
        const SessionTask *task = &d->chart->session->tasks[i];
        if (!is_pour(task) || !timeline_is_drawn(task) || task->load < 0 ||
            (guint)task->load >= d->chart->n_loads)
            continue;
        g_autofree char *id = g_strdup_printf("load-%d", task->load + 1);
        draw_cell(d, id, &d->chart->loads[task->load], d->chart->pour_place[i], task->flask);
    }
}
