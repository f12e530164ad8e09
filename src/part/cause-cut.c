// SPDX-License-Identifier: GPL-3.0-or-later
// A plane through the bodies: the two layers next to it are unpacked and cut like any grid; part
// and casting are cut as they are.
#include "part/cause-cut.h"

#include <math.h>

#define WAYS 60 // directions tried for the shortest way through a point, over half a turn

static SolidOutline *
cut_body(const CauseBodies *b, const gint8 *body, int axis, double at)
{
    int n[3] = {b->nx, b->ny, b->nz};
    double origin[3] = {b->origin.x, b->origin.y, b->origin.z};
    double place = (at - origin[axis]) / b->cell;
    int low = (int)CLAMP(floor(place), 0.0, (double)MAX(n[axis] - 2, 0));
    origin[axis] += low * b->cell;
    int m[3] = {n[0], n[1], n[2]}, from[3] = {0, 0, 0};
    m[axis] = MIN(2, n[axis]);
    from[axis] = low;
    g_autoptr(SolidGrid) slab = solid_grid_new(m[0], m[1], m[2], b->cell,
                                               vec3(origin[0], origin[1], origin[2]));
    if (!slab)
        return NULL;
    for (int k = 0; k < m[2]; k++)
        for (int j = 0; j < m[1]; j++)
            for (int i = 0; i < m[0]; i++) {
                gsize at_cell = ((gsize)(k + from[2]) * b->ny + j + from[1]) * b->nx + i + from[0];
                slab->value[solid_grid_index(slab, i, j, k)] = (float)(body[at_cell] * b->cell /
                                                                       CAUSE_STEPS);
            }
    return solid_section_grid(slab, axis, at, 0);
}

// Loops of shells that overlap count what they share twice, and would fill it not at all.
static SolidOutline *
cut_part(const PatternResult *p, int axis, double at)
{
    return p->overlaps ? solid_section_grid(p->part_distance, axis, at, 0)
                       : solid_section_mesh(p->part, axis, at);
}

CauseCut
cause_cut(const PatternResult *p, int axis, double at)
{
    CauseCut cut = {.axis = axis, .at = at};
    g_return_val_if_fail(axis >= 0 && axis <= 2 && isfinite(at), cut);
    double before = 0;
    for (int c = 0; c < CAUSE_COUNT; c++) {
        if (c == CAUSE_PART)
            cut.body[c] = cut_part(p, axis, at);
        else if (c == CAUSE_DRAFT)
            cut.body[c] = solid_section_grid(p->casting, axis, at, 0);
        else if (p->bodies->body[c])
            cut.body[c] = cut_body(p->bodies, p->bodies->body[c], axis, at);
        if (!cut.body[c])
            continue;
        double area = solid_outline_area(cut.body[c]);
        cut.area[c] = area - before;
        before = area;
    }
    return cut;
}

void
cause_cut_clear(CauseCut *cut)
{
    for (int c = 0; c < CAUSE_COUNT; c++)
        g_clear_pointer(&cut->body[c], solid_outline_unref);
}

static gboolean
holds_point(const SolidOutline *outline, SolidPoint p)
{
    gboolean inside = FALSE;
    for (guint loop = 0; loop < outline->n_loops; loop++) {
        guint first = outline->starts[loop], end = outline->starts[loop + 1];
        for (guint i = first, j = end - 1; i < end; j = i++) {
            SolidPoint a = outline->points[i], b = outline->points[j];
            if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
                inside = !inside;
        }
    }
    return inside;
}

// How far (m) the outline lies along `way` before the point and behind it; only nearer is noted.
static void
look_along(const SolidOutline *outline, SolidPoint p, SolidPoint way, double *ahead, double *behind)
{
    for (guint loop = 0; loop < outline->n_loops; loop++) {
        guint first = outline->starts[loop], end = outline->starts[loop + 1];
        for (guint i = first, j = end - 1; i < end; j = i++) {
            SolidPoint a = outline->points[j], b = outline->points[i];
            double fa = way.x * (a.y - p.y) - way.y * (a.x - p.x);
            double fb = way.x * (b.y - p.y) - way.y * (b.x - p.x);
            if ((fa > 0) == (fb > 0))
                continue;
            double t = fa / (fa - fb);
            double reach = way.x * (a.x + t * (b.x - a.x) - p.x) +
                           way.y * (a.y + t * (b.y - a.y) - p.y);
            double *side = reach >= 0 ? ahead : behind;
            *side = fmin(*side, fabs(reach));
        }
    }
}

static double
find_thickness(const SolidOutline *outer, const SolidOutline *inner, SolidPoint p)
{
    double least = INFINITY;
    for (int i = 0; i < WAYS; i++) {
        SolidPoint way = {cos(G_PI * i / WAYS), sin(G_PI * i / WAYS)};
        double ahead = INFINITY, behind = INFINITY;
        look_along(outer, p, way, &ahead, &behind);
        if (inner)
            look_along(inner, p, way, &ahead, &behind);
        least = fmin(least, ahead + behind);
    }
    return least;
}

Cause
cause_cut_at(const CauseCut *cut, SolidPoint point, double *thickness)
{
    const SolidOutline *inner = NULL;
    for (int c = 0; c < CAUSE_COUNT; c++) {
        const SolidOutline *outline = cut->body[c];
        if (!outline)
            continue;
        if (holds_point(outline, point)) {
            if (thickness)
                *thickness = find_thickness(outline, inner, point);
            return (Cause)c;
        }
        inner = outline;
    }
    return CAUSE_COUNT;
}
