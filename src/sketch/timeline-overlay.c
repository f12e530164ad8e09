// SPDX-License-Identifier: GPL-3.0-or-later
// What lies over a timeline while something is looked at: the life of the chosen mould, lit up and
// joined by a line, what the task under the pointer waits for and what waits for it, and the task
// in hand at the time it would be put to.
#include <math.h>

#include "sketch/timeline-kit.h"

#define ARROW 4.0
#define RIM 0.0 // between a bar and its ring

// Ends of lines to what is out of sight lie at the rim.
static SolidPoint
clamp_point(const TimelineFrame *f, double x, double y)
{
    return (SolidPoint){CLAMP(x, f->left, f->right), CLAMP(y, f->rows, f->bottom)};
}

static SolidPoint
find_end(const TimelineChart *chart, const TimelineFrame *f, guint task, gboolean at_end)
{
    const TimelineBar *bar = &chart->bars[chart->first_bar[task]];
    return clamp_point(f, timeline_x(f, at_end ? bar->end : bar->start),
                       timeline_row_y(f, bar->row) + f->row_height / 2.0);
}

static void
outline(Scene *scene, SceneRole role, const char *id, SolidPoint min, SolidPoint max)
{
    scene_add_rectangle(scene, role, TIMELINE_ORDER_OVER, id, FALSE, TRUE, min.x - RIM, min.y - RIM,
                        fmax(max.x - min.x, 1.0) + 2.0 * RIM, max.y - min.y + 2.0 * RIM);
}

// Rings all bars of a task and ties them together.
static void
light_task(Scene *scene, const TimelineChart *chart, const TimelineFrame *f, guint task)
{
    g_autofree char *id = g_strdup_printf("task-%u", task + 1);
    double top = INFINITY, bottom = -INFINITY, x = NAN;
    SolidPoint min, max;
    for (guint i = 0; i < chart->n_bars; i++) {
        if (chart->bars[i].task != task || !timeline_bar_box(chart, f, i, &min, &max))
            continue;
        outline(scene, ROLE_TRACE, id, min, max);
        x = (min.x + max.x) / 2.0;
        top = fmin(top, max.y);
        bottom = fmax(bottom, min.y);
    }
    if (timeline_cell_box(chart, f, task, &min, &max))
        outline(scene, ROLE_TRACE, id, min, max);
    SolidPoint tie[] = {{x, top}, {x, bottom}};
    if (bottom > top)
        scene_add_line(scene, ROLE_TRACE, TIMELINE_ORDER_OVER, id, tie, 2);
}

static void
light_life(Scene *scene, const TimelineChart *chart, const TimelineFrame *f, guint chosen)
{
    g_autoptr(GArray) life = timeline_life(chart, chart->session->tasks[chosen].flask);
    if (life->len == 0) {
        light_task(scene, chart, f, chosen);
        return;
    }
    for (guint i = 0; i < life->len; i++) {
        guint task = g_array_index(life, guint, i);
        light_task(scene, chart, f, task);
        if (i == 0)
            continue;
        SolidPoint joint[] = {find_end(chart, f, g_array_index(life, guint, i - 1), TRUE),
                              find_end(chart, f, task, FALSE)};
        scene_add_line(scene, ROLE_TRACE, TIMELINE_ORDER_OVER, "life", joint, 2);
    }
}

static void
draw_need(Scene *scene, const TimelineChart *chart, const TimelineFrame *f, guint from, guint to)
{
    if (chart->first_bar[from] == G_MAXUINT || chart->first_bar[to] == G_MAXUINT)
        return;
    g_autofree char *id = g_strdup_printf("need-%u-%u", from + 1, to + 1);
    SolidPoint a = find_end(chart, f, from, TRUE), b = find_end(chart, f, to, FALSE);
    SolidPoint line[] = {a, b};
    scene_add_line(scene, ROLE_NEEDS, TIMELINE_ORDER_OVER, id, line, 2);
    double length = hypot(b.x - a.x, b.y - a.y);
    if (length < 2.0 * ARROW)
        return;
    SolidPoint u = {(b.x - a.x) / length * ARROW, (b.y - a.y) / length * ARROW};
    SolidPoint head[] = {{b.x - u.x - u.y / 2.0, b.y - u.y + u.x / 2.0},
                         b,
                         {b.x - u.x + u.y / 2.0, b.y - u.y - u.x / 2.0}};
    scene_add_line(scene, ROLE_NEEDS, TIMELINE_ORDER_OVER, id, head, 3);
}

static void
draw_needs(Scene *scene, const TimelineChart *chart, const TimelineFrame *f, guint task)
{
    for (guint i = chart->needs_start[task]; i < chart->needs_start[task + 1]; i++)
        draw_need(scene, chart, f, chart->needs[i], task);
    for (guint i = chart->users_start[task]; i < chart->users_start[task + 1]; i++)
        draw_need(scene, chart, f, task, chart->users[i]);
}

// The bars of the task in hand where they would be, with the time over the topmost.
static void
draw_ghost(Scene *scene, const TimelineChart *chart, const TimelineFrame *f,
           const TimelineFocus *focus)
{
    const SessionTask *task = &chart->session->tasks[focus->held];
    double x0 = timeline_x(f, focus->at);
    double x1 = timeline_x(f, focus->at + task->end - task->start);
    double top = INFINITY;
    x0 = CLAMP(x0, f->left, f->right);
    x1 = CLAMP(x1, x0, f->right);
    for (guint i = 0; i < chart->n_bars; i++) {
        guint row = chart->bars[i].row;
        if (chart->bars[i].task != focus->held || row < f->first_row ||
            row >= f->first_row + f->n_rows)
            continue;
        double y = timeline_row_y(f, row);
        scene_add_rectangle(scene, timeline_role(task->kind), TIMELINE_ORDER_OVER, "ghost", TRUE,
                            TRUE, x0, y, fmax(x1 - x0, 1.0), f->row_height);
        scene_add_rectangle(scene, ROLE_TRACE, TIMELINE_ORDER_OVER, "ghost", FALSE, TRUE, x0, y,
                            fmax(x1 - x0, 1.0), f->row_height);
        top = fmin(top, y);
    }
    if (!isfinite(top))
        return;
    SolidPoint line[] = {{x0, f->curve_top}, {x0, f->bottom}};
    scene_add_line(scene, focus->limit != G_MAXUINT ? ROLE_FAILS : ROLE_TRACE, TIMELINE_ORDER_OVER,
                   "ghost", line, 2);
    g_autofree char *clock = timeline_clock(focus->at);
    gboolean leftwards = x0 > f->right - 60.0;
    Shape style = {.size = TIMELINE_TEXT + 2.0,
                   .strong = TRUE,
                   .halo = TRUE,
                   .align = leftwards ? ALIGN_END : ALIGN_START};
    scene_add_styled_text(scene, ROLE_TEXT, TIMELINE_ORDER_OVER, "ghost",
                          x0 + (leftwards ? -5.0 : 5.0), f->curve_top + 8.0, &style, clock);
    if (focus->limit != G_MAXUINT && chart->first_bar[focus->limit] != G_MAXUINT)
        light_task(scene, chart, f, focus->limit);
}

Scene *
timeline_overlay(const TimelineChart *chart, const TimelineFrame *frame, const TimelineFocus *focus)
{
    g_return_val_if_fail(chart != NULL && frame != NULL && focus != NULL, NULL);
    guint n = chart->session->n_tasks;
    Scene *scene = scene_new("");
    scene_set_axes(scene, TRUE, TRUE);
    if (focus->held < n) {
        draw_ghost(scene, chart, frame, focus);
        return scene;
    }
    if (focus->chosen < n)
        light_life(scene, chart, frame, focus->chosen);
    guint looked_at = focus->hover < n ? focus->hover : focus->chosen;
    if (looked_at < n)
        timeline_light_heat(scene, chart, frame, chart->session->tasks[looked_at].furnace);
    if (looked_at < n && chart->first_bar[looked_at] != G_MAXUINT)
        draw_needs(scene, chart, frame, looked_at);
    SolidPoint min, max;
    if (focus->hover < n && focus->hover != focus->chosen)
        for (guint i = 0; i < chart->n_bars; i++)
            if (chart->bars[i].task == focus->hover &&
                timeline_bar_box(chart, frame, i, &min, &max))
                outline(scene, ROLE_NEEDS, "hover", min, max);
    if (timeline_bar_box(chart, frame, focus->bar, &min, &max)) {
        SolidPoint wide_min = {min.x - 2.0, min.y - 2.0}, wide_max = {max.x + 2.0, max.y + 2.0};
        outline(scene, ROLE_TRACE, "cursor", wide_min, wide_max);
    }
    return scene;
}
