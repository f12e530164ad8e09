// SPDX-License-Identifier: GPL-3.0-or-later
// Draft and undercut on the part's own faces.
#pragma once

#include "base/progress.h"
#include "solid/bvh.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    guint32 n;      // triangles of the mesh
    float *draft;   // rad, per triangle: between the face and the pull, positive where it opens
                    // towards its own side of the parting, negative where it leans over
    guint8 *hidden; // per triangle: the sand on its side cannot leave past the part
    guint8 *low;    // per triangle: it draws, but with less than the wanted draft
    double hidden_area, low_area; // m2
} FaceDraft;

void face_draft_clear(FaceDraft *faces);

// Of a closed mesh that faces outwards. Seen from the middle of each triangle along `pull` (unit)
// if it lies above the parting, else against it: a face is hidden when the part itself stands in
// the way, whichever way its normal points. `parting` is along the pull from the origin (m),
// `wanted` an angle (rad). `bvh` NULL: made here. FALSE with an error when stopped.
gboolean face_draft(const SolidMesh *mesh, const SolidBvh *bvh, Vec3 pull, double parting,
                    double wanted, FaceDraft *faces, Progress *progress, GError **error);

G_END_DECLS
