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

// Hulls of the castings of a flask, as cold, and how much larger the cavities are.
typedef struct {
    SolidPoint *points[2]; // the second of guests
    guint n[2];
} Hulls;

static void
clear_hulls(Hulls *h)
{
    g_free(h->points[0]);
    g_free(h->points[1]);
}

static Hulls
find_hulls(const MouldLayout *l, const SolidOutline *outline)
{
    Hulls h = {0};
    const SolidOutline *both[2] = {outline, NULL};
    if (l->n_guests > 0 && l->guest)
        both[1] = l->guest->pattern->shadow;
    for (int k = 0; k < 2; k++) {
        guint n = both[k] ? both[k]->n_points : 0;
        h.points[k] = g_new(SolidPoint, n + 1);
        h.n[k] = n > 0 ? mould_play_hull(both[k]->points, n, h.points[k]) : 0;
    }
    return h;
}

// The hull of a cavity where it stands; `points` has room.
static guint
place_hull(const MouldLayout *l, const Hulls *h, guint i, SolidPoint *points)
{
    const MouldCavity *c = &l->cavities[i];
    int kind = c->guest ? 1 : 0;
    for (guint k = 0; k < h->n[kind]; k++)
        points[k] = placed(c, mould_layout_growth(l, i), h->points[kind][k]);
    return h->n[kind];
}

static double
to_cavities(const MouldLayout *l, const Hulls *h, const SolidPoint socket[4])
{
    g_autofree SolidPoint *points = g_new(SolidPoint, MAX(h->n[0], h->n[1]) + 1);
    double least = INFINITY;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        guint n = place_hull(l, h, i, points);
        least = MIN(least, to_polygon(socket, points, n));
        least = MIN(least,
                    to_disc(socket, c->riser_x, c->riser_y, mould_layout_riser(l, i)->diameter));
    }
    return least;
}

double
mould_tab_room(const MouldLayout *l, const SolidOutline *outline)
{
    Hulls hulls = find_hulls(l, outline);
    double least = INFINITY;
    for (guint i = 0; i < l->n_tabs; i++) {
        SolidPoint socket[4];
        set_socket(l, i, socket);
        for (int k = 0; k < 4; k++)
            least = MIN(least,
                        MIN(l->length / 2 - fabs(socket[k].x), l->width / 2 - fabs(socket[k].y)));
        least = MIN(least, to_cavities(l, &hulls, socket));
        for (guint k = 0; k < l->n_gates; k++)
            least = MIN(least, to_channel(socket, &l->gates[k]));
        for (guint k = 0; k < l->n_runners; k++)
            least = MIN(least, to_channel(socket, &l->runners[k]));
        least = MIN(least, to_disc(socket, l->sprue_x, l->sprue_y,
                                   MAX(l->well_diameter, l->sprue_top_diameter)));
    }
    clear_hulls(&hulls);
    return MAX(least, 0);
}

void
mould_find_mismatch(MouldLayout *l, const SolidOutline *outline)
{
    Hulls hulls = find_hulls(l, outline);
    g_autofree SolidPoint *points = g_new(SolidPoint, MAX(hulls.n[0], hulls.n[1]) + 1);
    for (guint i = 0; i < l->n_cavities; i++) {
        guint n = place_hull(l, &hulls, i, points);
        l->cavities[i].mismatch = l->n_tabs > 0 ? mould_play_shift_most(l->tabs, l->n_tabs,
                                                                        l->tab_clearance, points, n)
                                                : 0;
    }
    clear_hulls(&hulls);
}
