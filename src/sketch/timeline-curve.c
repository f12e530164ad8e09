// SPDX-License-Identifier: GPL-3.0-or-later
// The part of the timeline with the temperatures: their scale, the curves, and the setpoints to
// turn to and when.
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
        double y = timeline_temperature_y(f, celsius, most);
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
        double foot = timeline_temperature_y(f, s->temperature, most);
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

void
timeline_curve(TimelineDraft *d)
{
    double most = timeline_highest_temperature(d->chart);
    draw_axis(d, most);
    timeline_heats(d);
    draw_sets(d, most);
}
