// SPDX-License-Identifier: GPL-3.0-or-later
// Sets of closed loops: sharing, area, box, and leaving out points that say little.
#include "solid/outline.h"

#include <string.h>

static void
outline_clear(gpointer data)
{
    SolidOutline *outline = data;
    g_free(outline->points);
    g_free(outline->starts);
}

SolidOutline *
solid_outline_ref(const SolidOutline *outline)
{
    return g_atomic_rc_box_acquire((SolidOutline *)outline);
}

void
solid_outline_unref(const SolidOutline *outline)
{
    if (outline)
        g_atomic_rc_box_release_full((SolidOutline *)outline, outline_clear);
}

SolidOutline *
solid_outline_take(GArray *points, GArray *starts)
{
    SolidOutline *outline = g_atomic_rc_box_new0(SolidOutline);
    outline->n_points = points->len;
    outline->n_loops = starts->len;
    g_array_append_val(starts, points->len);
    outline->points = (SolidPoint *)(gpointer)g_array_free(points, FALSE);
    outline->starts = (guint *)(gpointer)g_array_free(starts, FALSE);
    return outline;
}

double
solid_outline_area(const SolidOutline *outline)
{
    double sum = 0;
    for (guint l = 0; l < outline->n_loops; l++) {
        guint first = outline->starts[l], end = outline->starts[l + 1];
        SolidPoint o = outline->points[first];
        for (guint i = first + 1; i + 1 < end; i++) {
            SolidPoint a = outline->points[i], b = outline->points[i + 1];
            sum += 0.5 * ((a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y));
        }
    }
    return sum;
}

void
solid_outline_box(const SolidOutline *outline, SolidPoint *min, SolidPoint *max)
{
    *min = *max = outline->n_points > 0 ? outline->points[0] : (SolidPoint){0, 0};
    for (guint i = 1; i < outline->n_points; i++) {
        SolidPoint p = outline->points[i];
        *min = (SolidPoint){fmin(min->x, p.x), fmin(min->y, p.y)};
        *max = (SolidPoint){fmax(max->x, p.x), fmax(max->y, p.y)};
    }
}

static double
measure_offset(SolidPoint p, SolidPoint a, SolidPoint b)
{
    double dx = b.x - a.x, dy = b.y - a.y, n = dx * dx + dy * dy;
    double t = n > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / n, 0.0, 1.0) : 0;
    return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

// Keeps, between kept points first and last of a loop of n (last may be n, the first again), those
// that lie off the line by more than the tolerance; an explicit stack of spans still to look at.
static void
keep_span(const SolidPoint *p, guint n, guint first, guint last, double tolerance, gboolean *keep,
          GArray *stack)
{
    guint span[2] = {first, last};
    g_array_append_vals(stack, span, 2);
    while (stack->len > 0) {
        guint a = g_array_index(stack, guint, stack->len - 2);
        guint b = g_array_index(stack, guint, stack->len - 1);
        g_array_set_size(stack, stack->len - 2);
        double worst = tolerance;
        guint at = 0;
        for (guint i = a + 1; i < b; i++) {
            double d = measure_offset(p[i], p[a], p[b % n]);
            if (d > worst) {
                worst = d;
                at = i;
            }
        }
        if (at == 0)
            continue;
        keep[at] = TRUE;
        guint both[4] = {a, at, at, b};
        g_array_append_vals(stack, both, 4);
    }
}

static void
simplify_loop(const SolidPoint *p, guint n, double tolerance, GArray *points, GArray *stack)
{
    g_autofree gboolean *keep = g_new0(gboolean, n);
    guint far = 0;
    double most = -1;
    for (guint i = 1; i < n; i++) {
        double d = hypot(p[i].x - p[0].x, p[i].y - p[0].y);
        if (d > most) {
            most = d;
            far = i;
        }
    }
    keep[0] = TRUE;
    if (n > 1) {
        keep[far] = TRUE;
        keep_span(p, n, 0, far, tolerance, keep, stack);
        keep_span(p, n, far, n, tolerance, keep, stack);
    }
    for (guint i = 0; i < n; i++)
        if (keep[i])
            g_array_append_val(points, p[i]);
}

SolidOutline *
solid_outline_simplified(const SolidOutline *outline, double tolerance)
{
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    g_autoptr(GArray) stack = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint l = 0; l < outline->n_loops; l++) {
        guint first = outline->starts[l], n = outline->starts[l + 1] - first;
        guint before = points->len;
        simplify_loop(outline->points + first, n, tolerance, points, stack);
        if (points->len - before < 3) // flatter than the tolerance: nothing left to draw
            g_array_set_size(points, before);
        else
            g_array_append_val(starts, before);
    }
    return solid_outline_take(points, starts);
}
