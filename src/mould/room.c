// SPDX-License-Identifier: GPL-3.0-or-later
// Distances of tabs, and how far each cavity's corners can be out of register.
#include "mould/room.h"

#include <math.h>

#include "mould/play.h"
#include "mould/polygon.h"

static SolidPoint
placed(const MouldCavity *cavity, double scale, SolidPoint p)
{
    double c = scale * cos(cavity->turn), s = scale * sin(cavity->turn);
    return (SolidPoint){cavity->x + c * p.x - s * p.y, cavity->y + s * p.x + c * p.y};
}

static double
growth(const MouldLayout *l)
{
    return l->growth > 0 ? l->growth : 1;
}

// A tab's socket as a box; of a pin the box about it.
static void
set_socket(const MouldLayout *l, guint i, SolidPoint corners[4])
{
    const MouldTab *t = &l->tabs[i];
    double a = t->length / 2 + l->tab_clearance;
    double b = (t->width > 0 ? t->width : t->length) / 2 + l->tab_clearance;
    corners[0] = (SolidPoint){t->x - a, t->y - b};
    corners[1] = (SolidPoint){t->x + a, t->y - b};
    corners[2] = (SolidPoint){t->x + a, t->y + b};
    corners[3] = (SolidPoint){t->x - a, t->y + b};
}

static gboolean
is_inside(const SolidPoint *polygon, guint n, SolidPoint p)
{
    gboolean inside = FALSE;
    for (guint i = 0, j = n - 1; i < n; j = i++) {
        SolidPoint a = polygon[i], b = polygon[j];
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
            inside = !inside;
    }
    return inside;
}

static double
to_polygon(const SolidPoint socket[4], const SolidPoint *points, guint n)
{
    SolidPoint on_a, on_b;
    if (n == 0)
        return INFINITY;
    if (is_inside(points, n, socket[0]) || is_inside(socket, 4, points[0]))
        return 0;
    return mould_polygon_distance(socket, 4, points, n, &on_a, &on_b);
}

static double
to_disc(const SolidPoint socket[4], double x, double y, double diameter)
{
    if (isnan(x) || !(diameter > 0))
        return INFINITY;
    double dx = MAX(0, MAX(socket[0].x - x, x - socket[2].x));
    double dy = MAX(0, MAX(socket[0].y - y, y - socket[2].y));
    return MAX(0, hypot(dx, dy) - diameter / 2);
}

static double
to_channel(const SolidPoint socket[4], const MouldChannel *c)
{
    double dx = c->x2 - c->x1, dy = c->y2 - c->y1, length = hypot(dx, dy);
    if (!(length > 0))
        return INFINITY;
    double nx = -dy / length * c->width / 2, ny = dx / length * c->width / 2;
    const SolidPoint points[4] = {{c->x1 + nx, c->y1 + ny},
                                  {c->x1 - nx, c->y1 - ny},
                                  {c->x2 - nx, c->y2 - ny},
                                  {c->x2 + nx, c->y2 + ny}};
    return to_polygon(socket, points, 4);
}

static double
to_cavities(const MouldLayout *l, const SolidPoint *hull, guint n, const SolidPoint socket[4])
{
    g_autofree SolidPoint *points = g_new(SolidPoint, n + 1);
    double least = INFINITY;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        for (guint k = 0; k < n; k++)
            points[k] = placed(c, growth(l), hull[k]);
        least = MIN(least, to_polygon(socket, points, n));
        least = MIN(least, to_disc(socket, c->riser_x, c->riser_y, l->riser_diameter));
    }
    return least;
}

double
mould_tab_room(const MouldLayout *l, const SolidOutline *outline)
{
    guint n = outline ? outline->n_points : 0;
    g_autofree SolidPoint *hull = g_new(SolidPoint, n + 1);
    n = n > 0 ? mould_play_hull(outline->points, n, hull) : 0;
    double least = INFINITY;
    for (guint i = 0; i < l->n_tabs; i++) {
        SolidPoint socket[4];
        set_socket(l, i, socket);
        for (int k = 0; k < 4; k++)
            least = MIN(least,
                        MIN(l->length / 2 - fabs(socket[k].x), l->width / 2 - fabs(socket[k].y)));
        least = MIN(least, to_cavities(l, hull, n, socket));
        for (guint k = 0; k < l->n_gates; k++)
            least = MIN(least, to_channel(socket, &l->gates[k]));
        for (guint k = 0; k < l->n_runners; k++)
            least = MIN(least, to_channel(socket, &l->runners[k]));
        least = MIN(least, to_disc(socket, l->sprue_x, l->sprue_y,
                                   MAX(l->well_diameter, l->sprue_top_diameter)));
    }
    return MAX(least, 0);
}

void
mould_find_mismatch(MouldLayout *l, const SolidOutline *outline)
{
    g_autofree SolidPoint *hull = g_new(SolidPoint, outline->n_points + 1);
    guint n = mould_play_hull(outline->points, outline->n_points, hull);
    g_autofree SolidPoint *points = g_new(SolidPoint, n + 1);
    for (guint i = 0; i < l->n_cavities; i++) {
        for (guint k = 0; k < n; k++)
            points[k] = placed(&l->cavities[i], growth(l), hull[k]);
        l->cavities[i].mismatch = l->n_tabs > 0 ? mould_play_shift_most(l->tabs, l->n_tabs,
                                                                        l->tab_clearance, points, n)
                                                : 0;
    }
}
