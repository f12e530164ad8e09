// SPDX-License-Identifier: GPL-3.0-or-later
// The bodies between part and rough casting, a byte a cell. Each is joined with the one before, so
// that they lie one within the other however the two were found.
#include "part/cause.h"

#include <math.h>
#include <string.h>

#define SNAP 9 // steps: a body that is found anew is the one before where they differ less

static void
clear_bodies(gpointer data)
{
    CauseBodies *bodies = data;
    for (int c = 0; c < CAUSE_COUNT; c++)
        g_free(bodies->body[c]);
}

CauseBodies *
cause_bodies_ref(const CauseBodies *bodies)
{
    return g_atomic_rc_box_acquire((CauseBodies *)bodies);
}

void
cause_bodies_unref(const CauseBodies *bodies)
{
    if (bodies)
        g_atomic_rc_box_release_full((CauseBodies *)bodies, clear_bodies);
}

CauseBodies *
cause_bodies_new(const SolidGrid *shape)
{
    CauseBodies *bodies = g_atomic_rc_box_new0(CauseBodies);
    bodies->nx = shape->nx;
    bodies->ny = shape->ny;
    bodies->nz = shape->nz;
    bodies->cell = shape->cell;
    bodies->origin = shape->origin;
    return bodies;
}

// Away from zero, so that no cell changes sides.
static gint8
pack_distance(double cells)
{
    double steps = fmin(ceil(fabs(cells) * CAUSE_STEPS), 127);
    return (gint8)(cells > 0 ? steps : -fmax(steps, 1));
}

void
cause_bodies_keep(CauseBodies *bodies, Cause cause, const SolidGrid *body)
{
    g_return_if_fail(cause > CAUSE_PART && cause < CAUSE_COUNT && !bodies->body[cause]);
    g_return_if_fail(body->nx == bodies->nx && body->ny == bodies->ny && body->nz == bodies->nz);
    gsize n = (gsize)body->nx * body->ny * body->nz;
    const gint8 *before = NULL;
    for (int c = 0; c < (int)cause; c++)
        before = bodies->body[c] ? bodies->body[c] : before;
    gint8 *own = g_new(gint8, n);
    for (gsize i = 0; i < n; i++) {
        own[i] = pack_distance(body->value[i] / body->cell);
        if (before && (own[i] > before[i] - SNAP))
            own[i] = before[i];
    }
    bodies->body[cause] = own;
}

void
cause_bodies_drop(CauseBodies *bodies, Cause cause)
{
    g_clear_pointer(&bodies->body[cause], g_free);
}

SolidGrid *
cause_bodies_grid(const CauseBodies *bodies, Cause cause)
{
    const gint8 *body = bodies->body[cause];
    SolidGrid *grid = body ? solid_grid_new(bodies->nx, bodies->ny, bodies->nz, bodies->cell,
                                            bodies->origin)
                           : NULL;
    gsize n = (gsize)bodies->nx * bodies->ny * bodies->nz;
    for (gsize i = 0; grid && i < n; i++)
        grid->value[i] = (float)(body[i] * bodies->cell / CAUSE_STEPS);
    return grid;
}

SolidOutline *
cause_side(const SolidGrid *g, int axis)
{
    g_return_val_if_fail(axis == 0 || axis == 1, NULL);
    // Two equal layers, since a plane lies between two.
    int nx = axis == 0 ? 2 : g->nx, ny = axis == 0 ? g->ny : 2;
    Vec3 origin = vec3(axis == 0 ? 0 : g->origin.x, axis == 0 ? g->origin.y : 0, g->origin.z);
    g_autoptr(SolidGrid) slab = solid_grid_new(nx, ny, g->nz, g->cell, origin);
    if (!slab)
        return NULL;
    for (gsize n = (gsize)nx * ny * g->nz, at = 0; at < n; at++)
        slab->value[at] = INFINITY;
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++)
                for (int side = 0; side < 2; side++) {
                    gsize at = axis == 0 ? solid_grid_index(slab, side, j, k)
                                         : solid_grid_index(slab, i, side, k);
                    slab->value[at] = fminf(slab->value[at],
                                            g->value[solid_grid_index(g, i, j, k)]);
                }
    return solid_section_grid(slab, axis, 0.5 * g->cell, 0);
}
