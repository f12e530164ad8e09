// SPDX-License-Identifier: GPL-3.0-or-later
// The temperature of each furnace as a curve. One has its ground filled; two or three are told
// apart by the kind of line and named at their ends; more are thin, and the one looked at is drawn
// over them in full.
//
//        ________/\____/\__
//     __/   - - - -'-.___  \___  1 small
//   _/  - -'             '-.___  2 large
#include <math.h>
#include <string.h>

#include "session/floor.h"
#include "sketch/timeline-kit.h"

#define MOST_KINDS 3     // kinds of line that can be told apart at a glance
#define LABEL_STEP 11.0  // device units between two names
#define MOST_LABEL 90.0  // device units across
#define LABEL_MARGIN 6.0 // from the end of the time shown

typedef struct {
    int furnace;
    GArray *points; // SolidPoint in sight, device units
    double label;   // y of its name; NAN: no room
} Heat;

static void
clear_heat(gpointer data)
{
    g_array_unref(((Heat *)data)->points);
}

double
timeline_highest_temperature(const TimelineChart *chart)
{
    double most = 0.0;
    for (guint i = 0; i < chart->session->n_curve; i++)
        if (isfinite(chart->session->curve[i].temperature))
            most = fmax(most, chart->session->curve[i].temperature);
    return most > 0.0 ? most : 100.0;
}

double
timeline_temperature_y(const TimelineFrame *f, double celsius, double highest)
{
    return f->curve_bottom -
           (f->curve_bottom - f->curve_top) * CLAMP(celsius / (highest * 1.04), 0.0, 1.0);
}

static gboolean
is_heated(const TimelineChart *chart, int furnace)
{
    for (guint i = 0; i < chart->session->n_curve; i++)
        if (chart->session->curve[i].furnace == furnace)
            return TRUE;
    return FALSE;
}

guint
timeline_count_heated(const TimelineChart *chart)
{
    guint n = 0;
    for (int furnace = 0; furnace < SESSION_MOST_FURNACES; furnace++)
        n += is_heated(chart, furnace);
    return n;
}

char *
timeline_heat_label(const TimelineChart *chart, int furnace)
{
    const char *name = session_furnace_name(chart->session, furnace);
    return name ? g_strdup_printf("%d %s", furnace + 1, name) : g_strdup_printf("%d", furnace + 1);
}

double
timeline_heat_label_width(const TimelineChart *chart, PangoLayout *layout)
{
    double widest = 0.0;
    for (int furnace = 0; furnace < SESSION_MOST_FURNACES; furnace++) {
        g_autofree char *label = timeline_heat_label(chart, furnace);
        if (is_heated(chart, furnace))
            widest = fmax(widest, timeline_width(layout, label, TIMELINE_TEXT, TRUE));
    }
    return fmin(widest, MOST_LABEL);
}

// Adds the part of a to b in sight.
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
list_points(const TimelineChart *chart, const TimelineFrame *f, int furnace)
{
    double most = timeline_highest_temperature(chart);
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    SolidPoint last = {NAN, NAN};
    for (guint i = 0; i < chart->session->n_curve; i++) {
        const SessionFurnacePoint *p = &chart->session->curve[i];
        if (p->furnace != furnace || !isfinite(p->at) || !isfinite(p->temperature))
            continue;
        SolidPoint next = {timeline_x(f, p->at), timeline_temperature_y(f, p->temperature, most)};
        if (isfinite(last.x))
            add_stretch(points, f, last, next);
        last = next;
    }
    return points;
}

static const SolidPoint *
get_points(const Heat *heat)
{
    return (const SolidPoint *)(const void *)heat->points->data;
}

static double
get_end(const Heat *heat)
{
    return get_points(heat)[heat->points->len - 1].y;
}

static gint
compare_ends(gconstpointer a, gconstpointer b)
{
    const Heat *p = a, *q = b;
    double end_p = get_end(p), end_q = get_end(q);
    return end_p != end_q ? (end_p < end_q ? -1 : 1) : p->furnace - q->furnace;
}

// Names stand at the ends of their curves, from the top pushed down and from the bottom up until
// none meets another.
static void
place_labels(GArray *heats, const TimelineFrame *f)
{
    double top = f->curve_top + LABEL_STEP / 2.0, bottom = f->curve_bottom - LABEL_STEP / 2.0;
    guint fit = (guint)fmax(0.0, floor((bottom - top) / LABEL_STEP + 1.0));
    g_array_sort(heats, compare_ends);
    for (guint i = 0; i < MIN(fit, heats->len); i++) {
        Heat *heat = &g_array_index(heats, Heat, i);
        heat->label = fmax(get_end(heat), i > 0 ? heat[-1].label + LABEL_STEP : top);
    }
    for (guint i = MIN(fit, heats->len); i > 0; i--) {
        Heat *heat = &g_array_index(heats, Heat, i - 1);
        gboolean last = i == MIN(fit, heats->len);
        heat->label = fmin(heat->label, last ? bottom : heat[1].label - LABEL_STEP);
    }
}

// What is in sight, from the top at the right end.
static GArray *
list_heats(const TimelineChart *chart, const TimelineFrame *f)
{
    GArray *heats = g_array_new(FALSE, FALSE, sizeof(Heat));
    g_array_set_clear_func(heats, clear_heat);
    for (int furnace = 0; furnace < SESSION_MOST_FURNACES; furnace++) {
        Heat heat = {furnace, list_points(chart, f, furnace), NAN};
        if (heat.points->len >= 2)
            g_array_append_val(heats, heat);
        else
            g_array_unref(heat.points);
    }
    place_labels(heats, f);
    return heats;
}

static void
draw_heat(Scene *scene, const TimelineChart *chart, const TimelineFrame *f, const Heat *heat,
          SceneRole role, TimelineOrder order, gboolean strong)
{
    scene_add_line(scene, role, order, NULL, get_points(heat), heat->points->len);
    if (timeline_count_heated(chart) == 1 || isnan(heat->label))
        return;
    g_autofree char *label = timeline_heat_label(chart, heat->furnace);
    Shape style = {.size = TIMELINE_TEXT,
                   .align = ALIGN_START,
                   .strong = strong,
                   .halo = strong,
                   .room_x = f->width - f->right - LABEL_MARGIN - 1.0};
    scene_add_styled_text(scene, ROLE_TEXT, strong ? order : TIMELINE_ORDER_TEXT, NULL,
                          f->right + LABEL_MARGIN, heat->label, &style, label);
}

static void
fill_ground(TimelineDraft *d, const Heat *heat)
{
    const SolidPoint *points = get_points(heat);
    guint n = heat->points->len;
    g_autofree SolidPoint *ground = g_new(SolidPoint, n + 2);
    memcpy(ground, points, n * sizeof *points);
    ground[n] = (SolidPoint){points[n - 1].x, d->frame.curve_bottom};
    ground[n + 1] = (SolidPoint){points[0].x, d->frame.curve_bottom};
    scene_add_polygon(d->scene, ROLE_CURVE, TIMELINE_ORDER_AREA, NULL, TRUE, FALSE, ground, n + 2);
}

// The kind of line of a furnace, by its place among those that are heated.
static SceneRole
choose_role(const TimelineChart *chart, int furnace)
{
    static const SceneRole kinds[MOST_KINDS] = {ROLE_CURVE, ROLE_CURVE_2, ROLE_CURVE_3};
    guint before = 0;
    if (timeline_count_heated(chart) > MOST_KINDS)
        return ROLE_CURVE_N;
    for (int other = 0; other < furnace; other++)
        before += is_heated(chart, other);
    return kinds[before];
}

void
timeline_heats(TimelineDraft *d)
{
    g_autoptr(GArray) heats = list_heats(d->chart, &d->frame);
    for (guint i = 0; i < heats->len; i++) {
        const Heat *heat = &g_array_index(heats, Heat, i);
        if (timeline_count_heated(d->chart) == 1)
            fill_ground(d, heat);
        draw_heat(d->scene, d->chart, &d->frame, heat, choose_role(d->chart, heat->furnace),
                  TIMELINE_ORDER_CURVE, FALSE);
    }
}

void
timeline_light_heat(Scene *scene, const TimelineChart *chart, const TimelineFrame *frame,
                    int furnace)
{
    if (timeline_count_heated(chart) <= MOST_KINDS)
        return;
    g_autoptr(GArray) heats = list_heats(chart, frame);
    for (guint i = 0; i < heats->len; i++) {
        const Heat *heat = &g_array_index(heats, Heat, i);
        if (heat->furnace == furnace)
            draw_heat(scene, chart, frame, heat, ROLE_CURVE, TIMELINE_ORDER_OVER, TRUE);
    }
}
