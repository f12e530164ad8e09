// SPDX-License-Identifier: GPL-3.0-or-later
// Sand cover measured between outlines: each shape is a polygon, shapes of one cavity form a group.
#include "mould/cover.h"

#include <math.h>
#include <string.h>

#define DISC_SIDES 48

typedef struct {
    SolidPoint *points;
    guint n;
    int group; // cavity number; -1 for runner, sprue and well
    SolidPoint min, max;
} Shape;

static void
clear_shape(gpointer data)
{
    Shape *shape = data;
    g_free(shape->points);
}

static void
add_shape(GArray *shapes, SolidPoint *points, guint n, int group)
{
    Shape s = {points, n, group, {INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    for (guint i = 0; i < n; i++) {
        s.min.x = MIN(s.min.x, points[i].x);
        s.min.y = MIN(s.min.y, points[i].y);
        s.max.x = MAX(s.max.x, points[i].x);
        s.max.y = MAX(s.max.y, points[i].y);
    }
    g_array_append_val(shapes, s);
}

static void
add_disc(GArray *shapes, double x, double y, double diameter, int group)
{
    if (!(diameter > 0) || isnan(x))
        return;
    SolidPoint *points = g_new(SolidPoint, DISC_SIDES);
    for (int i = 0; i < DISC_SIDES; i++) {
        double a = 2 * G_PI * i / DISC_SIDES;
        points[i] = (SolidPoint){x + diameter / 2 * cos(a), y + diameter / 2 * sin(a)};
    }
    add_shape(shapes, points, DISC_SIDES, group);
}

static void
add_channel(GArray *shapes, const MouldChannel *c, int group)
{
    double dx = c->x2 - c->x1, dy = c->y2 - c->y1, length = hypot(dx, dy);
    if (!(length > 0))
        return;
    double nx = -dy / length * c->width / 2, ny = dx / length * c->width / 2;
    SolidPoint *p = g_new(SolidPoint, 4);
    p[0] = (SolidPoint){c->x1 + nx, c->y1 + ny};
    p[1] = (SolidPoint){c->x1 - nx, c->y1 - ny};
    p[2] = (SolidPoint){c->x2 - nx, c->y2 - ny};
    p[3] = (SolidPoint){c->x2 + nx, c->y2 + ny};
    add_shape(shapes, p, 4, group);
}

static void
add_cavity(GArray *shapes, const MouldCavity *cavity, const SolidOutline *outline, double scale,
           int group)
{
    double c = scale * cos(cavity->turn), s = scale * sin(cavity->turn);
    for (guint loop = 0; loop < outline->n_loops; loop++) {
        guint from = outline->starts[loop], n = outline->starts[loop + 1] - from;
        SolidPoint *points = g_new(SolidPoint, n);
        for (guint i = 0; i < n; i++) {
            SolidPoint p = outline->points[from + i];
            points[i] = (SolidPoint){cavity->x + c * p.x - s * p.y, cavity->y + s * p.x + c * p.y};
        }
        add_shape(shapes, points, n, group);
    }
}

static double
point_to_segment(SolidPoint p, SolidPoint a, SolidPoint b, SolidPoint *near)
{
    double dx = b.x - a.x, dy = b.y - a.y, d2 = dx * dx + dy * dy;
    double t = d2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / d2 : 0;
    t = CLAMP(t, 0, 1);
    *near = (SolidPoint){a.x + t * dx, a.y + t * dy};
    return hypot(p.x - near->x, p.y - near->y);
}

static double
cross(SolidPoint o, SolidPoint a, SolidPoint b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

static gboolean
segments_cross(SolidPoint a, SolidPoint b, SolidPoint c, SolidPoint d)
{
    return (cross(a, b, c) > 0) != (cross(a, b, d) > 0) &&
           (cross(c, d, a) > 0) != (cross(c, d, b) > 0);
}

double
mould_polygon_distance(const SolidPoint *a, guint na, const SolidPoint *b, guint nb,
                       SolidPoint *on_a, SolidPoint *on_b)
{
    double least = INFINITY;
    SolidPoint near;
    for (guint i = 0; i < na; i++) {
        SolidPoint a1 = a[i], a2 = a[(i + 1) % na];
        for (guint j = 0; j < nb; j++) {
            SolidPoint b1 = b[j], b2 = b[(j + 1) % nb];
            if (segments_cross(a1, a2, b1, b2)) {
                *on_a = *on_b = a1;
                return 0;
            }
            double d = point_to_segment(a1, b1, b2, &near);
            if (d < least) {
                least = d;
                *on_a = a1;
                *on_b = near;
            }
            d = point_to_segment(b1, a1, a2, &near);
            if (d < least) {
                least = d;
                *on_a = near;
                *on_b = b1;
            }
        }
    }
    return least;
}

static double
box_distance(const Shape *a, const Shape *b)
{
    double dx = MAX(0, MAX(a->min.x - b->max.x, b->min.x - a->max.x));
    double dy = MAX(0, MAX(a->min.y - b->max.y, b->min.y - a->max.y));
    return hypot(dx, dy);
}

static void
measure_wall(MouldLayout *l, const GArray *shapes)
{
    l->cover_wall = INFINITY;
    for (guint i = 0; i < shapes->len; i++) {
        const Shape *s = &g_array_index(shapes, Shape, i);
        for (guint k = 0; s->group >= 0 && k < s->n; k++) {
            SolidPoint p = s->points[k];
            double to_x = l->length / 2 - fabs(p.x), to_y = l->width / 2 - fabs(p.y);
            double d = MIN(to_x, to_y);
            if (!(d < l->cover_wall))
                continue;
            l->cover_wall = d;
            l->cover_wall_from = p;
            l->cover_wall_to = to_x < to_y ? (SolidPoint){copysign(l->length / 2, p.x), p.y}
                                           : (SolidPoint){p.x, copysign(l->width / 2, p.y)};
        }
    }
}

static void
measure_between(MouldLayout *l, const GArray *shapes)
{
    l->cover_between = INFINITY;
    for (guint i = 0; i < shapes->len; i++) {
        const Shape *a = &g_array_index(shapes, Shape, i);
        for (guint j = i + 1; j < shapes->len; j++) {
            const Shape *b = &g_array_index(shapes, Shape, j);
            if (a->group == b->group || !(box_distance(a, b) < l->cover_between))
                continue;
            SolidPoint on_a, on_b;
            double d = mould_polygon_distance(a->points, a->n, b->points, b->n, &on_a, &on_b);
            if (d < l->cover_between) {
                l->cover_between = d;
                l->cover_between_from = on_a;
                l->cover_between_to = on_b;
            }
        }
    }
}

void
mould_cover_measure(MouldLayout *layout, const SolidOutline *outline, double scale)
{
    g_return_if_fail(layout != NULL && outline != NULL);
    layout->cover_wall = layout->cover_between = NAN;
    if (layout->n_cavities == 0)
        return;
    g_autoptr(GArray) shapes = g_array_new(FALSE, FALSE, sizeof(Shape));
    g_array_set_clear_func(shapes, clear_shape);
    for (guint i = 0; i < layout->n_cavities; i++) {
        const MouldCavity *cavity = &layout->cavities[i];
        add_cavity(shapes, cavity, outline, scale, (int)i);
        add_disc(shapes, cavity->riser_x, cavity->riser_y, layout->riser_diameter, (int)i);
    }
    for (guint i = 0; i < layout->n_runners; i++)
        add_channel(shapes, &layout->runners[i], -1);
    double sprue = MAX(layout->sprue_top_diameter, layout->well_diameter);
    add_disc(shapes, layout->sprue_x, layout->sprue_y, sprue, -1);
    measure_wall(layout, shapes);
    measure_between(layout, shapes);
}
