// SPDX-License-Identifier: GPL-3.0-or-later
// The drawable envelope: the smallest solid that holds part, allowance and stub and leaves a
// two-part mould at the draft angle, as a lower envelope of planar distance fields taken layer by
// layer towards the parting.
//
//   cope   z ^    ____          S(z)  section of part + allowance at height z
//            |   /    \         d_S   its signed planar distance
//   parting -+--/------\--      D(z) = min( d_S(z), D(z one layer away) - dz tan(draft) )
//   drag     |  \______/
#pragma once

#include "base/progress.h"
#include "solid/grid.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

// All in mould axes: z up along the pull into the cope.
typedef struct {
    double allowance;     // m, stock on every face
    double draft;         // rad
    double stub_diameter; // m, 0 for none: a cylinder on the cope side about the centroid axis
    double stub_height;   // m
    int cells;            // along the longest side
} EnvelopeOptions;

typedef struct {
    SolidGrid *casting; // signed planar distance per layer of the envelope; negative in the metal
    double parting;     // z of the parting, m, mould axes
    double part_volume; // m3, by the grid
    double allowance_volume, stub_volume, undercut_volume, draft_volume; // m3 added by each cause
    double volume;                                                       // m3, of the envelope
    double depth_cope, depth_drag; // m, depth of draw each side
} EnvelopeResult;

void envelope_result_clear(EnvelopeResult *result);

// `part` is the signed 3D distance of the part in mould axes (solid_grid_distance) with margin and
// band for the allowance. `parting` NAN: the height that adds least is chosen.
gboolean envelope_make(const SolidGrid *part, const EnvelopeOptions *options, double parting,
                       EnvelopeResult *result, Progress *progress, GError **error);

G_END_DECLS
