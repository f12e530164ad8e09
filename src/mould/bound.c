// SPDX-License-Identifier: GPL-3.0-or-later
// The disc in an outline, how many such discs have room, and the least well.
#include "mould/bound.h"

#include <math.h>

#include "mould/fit.h"

#define STEPS 40 // of a first grid along the longer side
#define HALVINGS 18

double
mould_bound_depth(const SolidOutline *o, SolidPoint p)
{
    double least = INFINITY;
    gboolean inside = FALSE;
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
            SolidPoint a = o->points[i];
            SolidPoint b = o->points[i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop]];
            double dx = b.x - a.x, dy = b.y - a.y, d2 = dx * dx + dy * dy;
            double t = d2 > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / d2, 0, 1) : 0;
            least = fmin(least, hypot(p.x - a.x - t * dx, p.y - a.y - t * dy));
            if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + dx * (p.y - a.y) / dy)
                inside = !inside;
        }
    return inside ? least : -least;
}

double
mould_bound_inscribed(const SolidOutline *o)
{
    g_return_val_if_fail(o != NULL, 0);
    if (o->n_points < 3)
        return 0;
    SolidPoint min, max, best = {0, 0};
    solid_outline_box(o, &min, &max);
    double step = fmax(max.x - min.x, max.y - min.y) / STEPS, deepest = -INFINITY;
    for (double y = min.y + step / 2; y < max.y; y += step)
        for (double x = min.x + step / 2; x < max.x; x += step) {
            double depth = mould_bound_depth(o, (SolidPoint){x, y});
            if (!(depth > deepest))
                continue;
            deepest = depth;
            best = (SolidPoint){x, y};
        }
    // Whatever point this ends at, its disc lies inside.
    for (int i = 0; i < HALVINGS; i++, step /= 2)
        for (int k = 0; k < 9; k++) {
            SolidPoint p = {best.x + (k % 3 - 1) * step / 2, best.y + (k / 3 - 1) * step / 2};
            double depth = mould_bound_depth(o, p);
            if (!(depth > deepest))
                continue;
            deepest = depth;
            best = p;
        }
    return fmax(0, deepest);
}

double
mould_bound_discs(const MouldBoundTask *t, double radius)
{
    g_return_val_if_fail(t != NULL, NAN);
    double d = 2 * radius + t->clearance, a = t->length - 2 * radius, b = t->width - 2 * radius;
    if (t->round)
        b = a;
    if (!(a >= 0 && b >= 0))
        return 0;
    if (!(d > 0))
        return INFINITY;
    double area = t->round ? G_PI / 4 * a * a : a * b, girth = t->round ? G_PI * a : 2 * (a + b);
    return 2 / sqrt(3) * area / (d * d) + girth / (2 * d) + 1;
}

// The choke grows with the metal and with the number of gates, whatever the filling time is found
// by, so the least of both gives the least.
double
mould_bound_well(const MouldWish *wish, guint n, double radius)
{
    g_return_val_if_fail(wish != NULL, 0);
    MouldWish least = *wish;
    least.gate_share = MOULD_FIT_LEAST_SHARE;
    double side = 2 * radius;
    if (wish->own.beside)
        side = fmin(side, wish->own.diameter);
    if (wish->riser_diameter > 0)
        side = wish->riser_diameter;
    if (n == 0 || !(side > 0))
        return 0;
    return mould_pour_sizes(&least, n * wish->cavity_volume, (int)n, 1, side).well;
}
