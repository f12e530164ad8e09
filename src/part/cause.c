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
cause_side(const SolidGrid *g)
{
    // Two equal layers, since a plane lies between two.
    g_autoptr(SolidGrid) slab = solid_grid_new(g->nx, 2, g->nz, g->cell,
                                               vec3(g->origin.x, -g->cell / 2, g->origin.z));
    if (!slab)
        return NULL;
    for (int k = 0; k < g->nz; k++)
        for (int i = 0; i < g->nx; i++) {
            float least = INFINITY;
            for (int j = 0; j < g->ny; j++)
                least = fminf(least, g->value[solid_grid_index(g, i, j, k)]);
            slab->value[solid_grid_index(slab, i, 0, k)] = least;
            slab->value[solid_grid_index(slab, i, 1, k)] = least;
        }
    return solid_section_grid(slab, 1, 0, 0);
}
