// SPDX-License-Identifier: GPL-3.0-or-later
// The furnace's temperature over the session, with the setpoints to turn to and when.
//
//   0:20 Set 300 °C     1:15 Set 800 °C        setpoints
//   |                   |        ________
//   |          _________|_______/              temperature
//   |_________/
#include <math.h>

#include "sketch/timeline-kit.h"

#define LEAST_STEP 14.0 // device units between temperatures

static double
to_shop(const TimelineDraft *d, double celsius)
{
    return d->chart->units.fahrenheit ? celsius * 1.8 + 32.0 : celsius;
}

static double
from_shop(const TimelineDraft *d, double shown)
{
    return d->chart->units.fahrenheit ? (shown - 32.0) / 1.8 : shown;
}

static double
highest_temperature(const SessionResult *session)
{
    double most = 0.0;
    for (guint i = 0; i < session->n_curve; i++)
        if (isfinite(session->curve[i].temperature))
            most = fmax(most, session->curve[i].temperature);
    return most > 0.0 ? most : 100.0;
}

static double
place_temperature(const TimelineFrame *f, double celsius, double most)
{
    return f->curve_bottom -
           (f->curve_bottom - f->curve_top) * CLAMP(celsius / (most * 1.04), 0.0, 1.0);
}

static double
choose_step(const TimelineDraft *d, double most)
{
    static const double steps[] = {20, 50, 100, 200, 250, 500, 1000};
    double height = d->frame.curve_bottom - d->frame.curve_top, shown = to_shop(d, most);
    for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
        if (height * steps[i] / shown >= LEAST_STEP)
            return steps[i];
    return 2000.0;
}

static void
draw_axis(TimelineDraft *d, double most)
{
    const TimelineFrame *f = &d->frame;
    double step = choose_step(d, most);
    for (double shown = 0.0; shown <= to_shop(d, most); shown += step) {
        double celsius = from_shop(d, shown);
        if (celsius < 0.0)
            continue;
        double y = place_temperature(f, celsius, most);
        SolidPoint line[] = {{f->left, y}, {f->right, y}};
        scene_add_line(d->scene, ROLE_GRID, TIMELINE_ORDER_GRID, NULL, line, 2);
        g_autofree char *text = quantity_format(QUANTITY_TEMPERATURE, celsius, &d->chart->units);
        timeline_text(d, ROLE_DIMENSION, NULL, f->left - 6.0, y, TIMELINE_TEXT - 1.0, ALIGN_END,
                      text);
    }
}

static void
draw_sets(TimelineDraft *d, double most)
{
    const TimelineFrame *f = &d->frame;
    for (guint i = 0; i < d->sets->len; i++) {
        const TimelineSet *s = &g_array_index(d->sets, TimelineSet, i);
        double x = timeline_x(f, s->at), y = f->sets + s->level * f->set_step;
        if (x < f->left - 0.5 || x > f->right + 0.5)
            continue;
        double foot = place_temperature(f, s->temperature, most);
        scene_add_circle(d->scene, ROLE_CURVE, TIMELINE_ORDER_CURVE, NULL, TRUE, TRUE, x, foot,
                         2.4);
        if (s->room <= 0.0)
            continue;
        SolidPoint leader[] = {{x, y - 5.0}, {x, foot - 2.4}};
        scene_add_line(d->scene, ROLE_WARMUP, TIMELINE_ORDER_CURVE, NULL, leader, 2);
        Shape style = {.size = TIMELINE_TEXT,
                       .align = s->leftwards ? ALIGN_END : ALIGN_START,
                       .room_x = s->room - 5.0};
        scene_add_styled_text(d->scene, ROLE_TEXT, TIMELINE_ORDER_TEXT, NULL,
                              x + (s->leftwards ? -4.0 : 4.0), y, &style, s->text);
    }
}

// Adds the part of a to b in sight; `first` when nothing was added before.
static void
add_stretch(GArray *points, const TimelineFrame *f, SolidPoint a, SolidPoint b)
{
    if (b.x < f->left || a.x > f->right || !(b.x >= a.x))
        return;
    double slope = b.x > a.x ? (b.y - a.y) / (b.x - a.x) : 0.0;
    SolidPoint from = a, to = b;
    if (a.x < f->left)
        from = (SolidPoint){f->left, a.y + slope * (f->left - a.x)};
    if (b.x > f->right)
        to = (SolidPoint){f->right, a.y + slope * (f->right - a.x)};
    if (points->len == 0)
        g_array_append_val(points, from);
    g_array_append_val(points, to);
}

static GArray *
list_points(const TimelineDraft *d, double most)
{
    const SessionResult *session = d->chart->session;
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    SolidPoint last = {NAN, NAN};
    for (guint i = 0; i < session->n_curve; i++) {
        const SessionFurnacePoint *p = &session->curve[i];
        if (!isfinite(p->at) || !isfinite(p->temperature))
            continue;
        SolidPoint next = {timeline_x(&d->frame, p->at),
                           place_temperature(&d->frame, p->temperature, most)};
        if (isfinite(last.x))
            add_stretch(points, &d->frame, last, next);
        last = next;
    }
    return points;
}

void
timeline_curve(TimelineDraft *d)
{
    const TimelineFrame *f = &d->frame;
    double most = highest_temperature(d->chart->session);
    draw_axis(d, most);
    g_autoptr(GArray) points = list_points(d, most);
    if (points->len >= 2) {
        const SolidPoint *p = (const SolidPoint *)(const void *)points->data;
        guint n = points->len;
        scene_add_line(d->scene, ROLE_CURVE, TIMELINE_ORDER_CURVE, NULL, p, n);
        SolidPoint feet[] = {{p[n - 1].x, f->curve_bottom}, {p[0].x, f->curve_bottom}};
        g_array_append_vals(points, feet, 2);
        scene_add_polygon(d->scene, ROLE_CURVE, TIMELINE_ORDER_AREA, NULL, TRUE, FALSE,
                          (const SolidPoint *)(const void *)points->data, points->len);
    }
    draw_sets(d, most);
}
