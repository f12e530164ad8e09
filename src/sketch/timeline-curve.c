// SPDX-License-Identifier: GPL-3.0-or-later
// The furnace's temperature over the session, with the setpoints to turn to and when.
//
//   0:00 Set 300 °C     1:15 Set 800 °C        setpoints, in two lines so that they fit
//   |                   |        ________
//   |          _________|_______/              temperature
//   |_________/
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/timeline-kit.h"

#define LEAST_SET_ROOM 0.2 // of the length, for words to the right of the last setpoints

typedef struct {
    double at, temperature; // s, deg C
    const char *prompt;
} Setpoint;

static double
to_shop(const TimelineDraft *d, double celsius)
{
    return d->units->fahrenheit ? celsius * 1.8 + 32.0 : celsius;
}

static double
from_shop(const TimelineDraft *d, double shown)
{
    return d->units->fahrenheit ? (shown - 32.0) / 1.8 : shown;
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
choose_step(double most)
{
    static const double steps[] = {20, 50, 100, 200, 250, 500, 1000};
    for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
        if (most / steps[i] <= 4.5)
            return steps[i];
    return 2000.0;
}

static double
place_temperature(double celsius, double most)
{
    double height = LANE_CURVE_BOTTOM - LANE_CURVE_TOP;
    return LANE_CURVE_BOTTOM - height * CLAMP(celsius / (most * 1.04), 0.0, 1.0);
}

static void
draw_axis(TimelineDraft *d, double most)
{
    double step = choose_step(to_shop(d, most));
    for (double shown = 0.0; shown <= to_shop(d, most); shown += step) {
        double celsius = from_shop(d, shown);
        if (celsius < 0.0)
            continue;
        double y = place_temperature(celsius, most);
        SolidPoint line[] = {{0, y}, {d->length, y}};
        scene_add_line(d->scene, ROLE_GRID, TIMELINE_ORDER_GRID, NULL, line, 2);
        g_autofree char *text = quantity_format(QUANTITY_TEMPERATURE, celsius, d->units);
        timeline_gutter(d, ROLE_DIMENSION, y, 9.0, text);
    }
}

// The warm-up's own steps, for a curve that carries no prompts.
static GArray *
list_warmup(const TimelineDraft *d)
{
    GArray *list = g_array_new(FALSE, FALSE, sizeof(Setpoint));
    double at = 0.0;
    for (guint i = 0; i < d->session->n_tasks; i++) {
        if (d->session->tasks[i].kind == TASK_WARM_UP) {
            at = d->session->tasks[i].start;
            break;
        }
    }
    for (guint i = 0; d->melt && i < d->melt->n_warmup; i++) {
        const MeltStep *step = &d->melt->warmup[i];
        Setpoint setpoint = {at, step->setpoint, step->prompt};
        if (step->prompt)
            g_array_append_val(list, setpoint);
        at += step->ramp + step->hold;
    }
    return list;
}

static GArray *
list_setpoints(const TimelineDraft *d)
{
    GArray *list = g_array_new(FALSE, FALSE, sizeof(Setpoint));
    for (guint i = 0; i < d->session->n_curve; i++) {
        const SessionFurnacePoint *point = &d->session->curve[i];
        Setpoint setpoint = {point->at, point->temperature, point->prompt};
        if (point->prompt && isfinite(point->at) && isfinite(point->temperature))
            g_array_append_val(list, setpoint);
    }
    if (list->len > 0)
        return list;
    g_array_unref(list);
    return list_warmup(d);
}

// The words of setpoint `i`, to the right of its leader as far as the next one in the same line;
// the last ones stand to the left where there is more room.
static void
write_setpoint(TimelineDraft *d, const GArray *list, guint i, double y)
{
    const Setpoint *s = &g_array_index(list, Setpoint, i);
    double x = s->at / 60.0, next = d->length, last = 0.0;
    gboolean ends = i + LANE_SET_LEVELS >= list->len;
    if (!ends)
        next = g_array_index(list, Setpoint, i + LANE_SET_LEVELS).at / 60.0;
    if (i >= LANE_SET_LEVELS)
        last = (x + g_array_index(list, Setpoint, i - LANE_SET_LEVELS).at / 60.0) / 2.0;
    gboolean leftwards = ends && d->length - x < LEAST_SET_ROOM * d->length && x - last > next - x;
    g_autofree char *clock = timeline_clock(s->at);
    g_autofree char *text = leftwards ? g_strdup_printf("%s\u2002%s\u2002", clock, s->prompt)
                                      : g_strdup_printf("\u2002%s\u2002%s", clock, s->prompt);
    // The rim of paper breaks the leader of the next one above where the text crosses it.
    Shape style = {.size = TIMELINE_TEXT,
                   .align = leftwards ? ALIGN_END : ALIGN_START,
                   .halo = TRUE,
                   .room_x = (leftwards ? x - last : next - x) * 0.97,
                   .room_y = LANE_SET_STEP};
    scene_add_styled_text(d->scene, ROLE_TEXT, TIMELINE_ORDER_TEXT, NULL, x, y, &style, text);
}

// Neighbours take turns in the lines above the curve.
static void
draw_setpoints(TimelineDraft *d, double most)
{
    g_autoptr(GArray) list = list_setpoints(d);
    for (guint i = 0; i < list->len; i++) {
        const Setpoint *s = &g_array_index(list, Setpoint, i);
        double x = s->at / 60.0, y = LANE_SET + (i % LANE_SET_LEVELS) * LANE_SET_STEP;
        SolidPoint leader[] = {{x, y - 2.5}, {x, place_temperature(s->temperature, most)}};
        scene_add_line(d->scene, ROLE_WARMUP, TIMELINE_ORDER_CURVE, NULL, leader, 2);
        scene_add_circle(d->scene, ROLE_CURVE, TIMELINE_ORDER_CURVE, NULL, TRUE, TRUE, x,
                         leader[1].y, 2.4);
        write_setpoint(d, list, i, y);
    }
}

void
timeline_curve(TimelineDraft *d)
{
    const SessionResult *session = d->session;
    double most = highest_temperature(session);
    draw_axis(d, most);
    g_autofree SolidPoint *points = g_new(SolidPoint, session->n_curve + 2);
    guint n = 0;
    for (guint i = 0; i < session->n_curve; i++) {
        if (!isfinite(session->curve[i].at) || !isfinite(session->curve[i].temperature))
            continue;
        points[n++] = (SolidPoint){session->curve[i].at / 60.0,
                                   place_temperature(session->curve[i].temperature, most)};
    }
    if (n < 2)
        return;
    scene_add_line(d->scene, ROLE_CURVE, TIMELINE_ORDER_CURVE, NULL, points, n);
    points[n] = (SolidPoint){points[n - 1].x, LANE_CURVE_BOTTOM};
    points[n + 1] = (SolidPoint){points[0].x, LANE_CURVE_BOTTOM};
    scene_add_polygon(d->scene, ROLE_CURVE, TIMELINE_ORDER_AREA, NULL, TRUE, FALSE, points, n + 2);
    draw_setpoints(d, most);
}
