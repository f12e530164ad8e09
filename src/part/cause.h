// SPDX-License-Identifier: GPL-3.0-or-later
// Why there is metal: the rough casting as bodies one within the other, each holding the one before
// and what one cause adds to it
// (planes cut through them are in part/cause-cut.h).
//
//   part < with allowance < walls < corners < small holes < drawable < with stub < with draft
//
// Near its surface each body keeps a distance in one byte a cell, which places an outline within a
// hundredth of a cell.
#pragma once

#include "solid/grid.h"
#include "solid/section.h"

G_BEGIN_DECLS

typedef enum {
    CAUSE_PART, // no cause but itself
    CAUSE_ALLOWANCE,
    CAUSE_WALL,
    CAUSE_FILLET,
    CAUSE_CLOSED,
    CAUSE_UNDERCUT,
    CAUSE_STUB,
    CAUSE_DRAFT,
    CAUSE_COUNT
} Cause;

// The bodies between part and rough casting, in the cells of the casting's grid. Reference-counted.
typedef struct {
    int nx, ny, nz;
    double cell; // m
    Vec3 origin; // middle of cell 0,0,0; m
    gint8
        *body[CAUSE_COUNT]; // distance in CAUSE_STEPS to a cell; NULL: no more than the one before
} CauseBodies;

#define CAUSE_STEPS 60 // of a cell; the byte's ends stand for two cells and more

CauseBodies *cause_bodies_new(const SolidGrid *shape);
CauseBodies *cause_bodies_ref(const CauseBodies *bodies);
void cause_bodies_unref(const CauseBodies *bodies); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CauseBodies, cause_bodies_unref)

// Before they are handed on: keeps a body (signed distance, m, in the cells of `shape`), joined
// with the ones kept before it. Keep them in the order of the causes.
void cause_bodies_keep(CauseBodies *bodies, Cause cause, const SolidGrid *body);
void cause_bodies_drop(CauseBodies *bodies, Cause cause);

// The body as a grid, m, cut off at two cells; NULL when it is not kept.
SolidGrid *cause_bodies_grid(const CauseBodies *bodies, Cause cause);

// The outline of a body seen along an axis, 0 or 1: points (y, z) or (x, z).
SolidOutline *cause_side(const SolidGrid *casting, int axis);

G_END_DECLS
