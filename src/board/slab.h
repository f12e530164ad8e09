// SPDX-License-Identifier: GPL-3.0-or-later
// A flat board with tabs that stand up from it, pockets, holes through it and blind holes in its
// edges, as an exact closed mesh.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

typedef enum {
    SLAB_TOP,
    SLAB_BOTTOM,
    SLAB_LEFT,  // x least
    SLAB_RIGHT, // x most
    SLAB_FRONT, // y least
    SLAB_BACK,  // y most
    SLAB_FACES
} SlabFace;

// In the board's axes, m. Features of one face must not touch each other or the face's edge, nor
// may those of different faces meet inside; `taper` (a tangent) makes a feature smaller away from
// its face.
typedef struct {
    SlabFace face;
    Vec3 middle;  // on the face; the coordinate across it is not used
    double a, b;  // half sides along the face's two axes (x and y on top; x or y and z on the
                  // edges); b 0: round, with radius a
    double depth; // above the face; negative: into it
    double taper;
    gboolean through; // from SLAB_TOP to the bottom; depth and taper are not used
} SlabFeature;

// Closed, outward. NULL with an error when features touch.
SolidMesh *board_slab(Vec3 min, Vec3 max, const SlabFeature *features, guint n, GError **error);

G_END_DECLS
