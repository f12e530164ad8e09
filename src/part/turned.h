// SPDX-License-Identifier: GPL-3.0-or-later
// A part's distance field on a grid that stands along a pull. Inside part/ only.
#pragma once

#include "part/envelope.h"
#include "solid/bvh.h"

G_BEGIN_DECLS

// `field` and `bvh` are of `mesh`; `rotation` takes their axes to the mould's, row by row. On the
// field's cells, or coarser ones if there would be more than `most`. NULL with an error when
// stopped or over the limit of cells; what was stopped half-way may also come back unfinished, so
// ask `progress`.
SolidGrid *turned_field(const SolidMesh *mesh, const SolidGrid *field, const SolidBvh *bvh,
                        const EnvelopeOptions *options, const double rotation[9], double most,
                        Progress *progress, GError **error);

G_END_DECLS
