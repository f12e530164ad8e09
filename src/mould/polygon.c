// SPDX-License-Identifier: GPL-3.0-or-later
// Distances of closed polygons.
#include "mould/polygon.h"

#include <math.h>

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
