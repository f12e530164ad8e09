// SPDX-License-Identifier: GPL-3.0-or-later
// Points and distance of one outline.
#include "mould/nest-shape.h"

#include <math.h>

#define CELLS 110 // along the longer side
#define ALONG 56  // points along the outline, at least
#define MOST_POINTS 400

static void
add_points(NestShape *s)
{
    const SolidOutline *o = s->outline;
    double length = 0;
    for (int pass = 0; pass < 2; pass++) {
        g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
        for (guint loop = 0; loop < o->n_loops; loop++)
            for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
                SolidPoint a = o->points[i];
                SolidPoint b = o->points[i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop]];
                double d = hypot(b.x - a.x, b.y - a.y);
                int n = pass ? (int)CLAMP(ceil(d / (length / ALONG)), 1, ALONG) : 1;
                length += pass ? 0 : d;
                for (int k = 0; k < n; k++) {
                    SolidPoint p = {a.x + (b.x - a.x) * k / n, a.y + (b.y - a.y) * k / n};
                    g_array_append_val(points, p);
                    s->radius = fmax(s->radius, hypot(p.x, p.y));
                }
            }
        if (pass) {
            // Of a fine outline every so manieth will do.
            guint every = 1 + points->len / MOST_POINTS;
            s->points = g_new(SolidPoint, points->len);
            for (guint i = 0; i < points->len; i += every)
                s->points[s->n_points++] = g_array_index(points, SolidPoint, i);
        }
    }
}

static double
measure_at(const SolidOutline *o, double x, double y)
{
    double least = INFINITY;
    gboolean inside = FALSE;
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
            SolidPoint a = o->points[i];
            SolidPoint b = o->points[i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop]];
            double dx = b.x - a.x, dy = b.y - a.y, d2 = dx * dx + dy * dy;
            double t = d2 > 0 ? CLAMP(((x - a.x) * dx + (y - a.y) * dy) / d2, 0, 1) : 0;
            double ox = x - a.x - t * dx, oy = y - a.y - t * dy;
            least = fmin(least, ox * ox + oy * oy);
            if ((a.y > y) != (b.y > y) && x < a.x + dx * (y - a.y) / dy)
                inside = !inside;
        }
    return inside ? -sqrt(least) : sqrt(least);
}

NestShape *
nest_shape_new(const SolidOutline *outline, double margin)
{
    NestShape *s = g_new0(NestShape, 1);
    s->outline = solid_outline_ref(outline);
    s->area = solid_outline_area(outline);
    add_points(s);
    SolidPoint min, max;
    solid_outline_box(outline, &min, &max);
    double size = fmax(max.x - min.x, max.y - min.y) + 2 * margin;
    s->cell = size / CELLS;
    s->nx = 3 + (int)ceil((max.x - min.x + 2 * margin) / s->cell);
    s->ny = 3 + (int)ceil((max.y - min.y + 2 * margin) / s->cell);
    s->origin = (SolidPoint){min.x - margin - s->cell, min.y - margin - s->cell};
    s->distance = g_new(float, (gsize)s->nx * s->ny);
#pragma omp parallel for schedule(static)
    for (int j = 0; j < s->ny; j++)
        for (int i = 0; i < s->nx; i++)
            s->distance[j * s->nx + i] = (float)measure_at(outline, s->origin.x + i * s->cell,
                                                           s->origin.y + j * s->cell);
    return s;
}

void
nest_shape_free(NestShape *s)
{
    if (!s)
        return;
    solid_outline_unref(s->outline);
    g_free(s->points);
    g_free(s->distance);
    g_free(s);
}

gboolean
nest_shape_distance(const NestShape *s, SolidPoint p, double *distance, SolidPoint *slope)
{
    double x = (p.x - s->origin.x) / s->cell, y = (p.y - s->origin.y) / s->cell;
    if (!(x >= 0 && y >= 0 && x < s->nx - 1 && y < s->ny - 1))
        return FALSE;
    int i = (int)x, j = (int)y;
    double u = x - i, v = y - j;
    const float *f = s->distance + j * s->nx + i;
    double a = f[0], b = f[1], c = f[s->nx], d = f[s->nx + 1];
    *distance = (1 - v) * ((1 - u) * a + u * b) + v * ((1 - u) * c + u * d);
    *slope = (SolidPoint){((1 - v) * (b - a) + v * (d - c)) / s->cell,
                          ((1 - u) * (c - a) + u * (d - b)) / s->cell};
    return TRUE;
}
