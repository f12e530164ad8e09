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
#include "part/cause.h"
#include "part/peg.h"
#include "solid/grid.h"
#include "solid/mesh.h"
#include "solid/section.h"

G_BEGIN_DECLS

// All in mould axes: z up along the pull into the cope.
typedef struct {
    double allowance;       // m, stock on every face
    double draft;           // rad
    double stub_diameter;   // m, 0 for none: a cylinder on the cope side about the centroid axis
    double stub_height;     // m
    int cells;              // along the longest side; the caller makes the part's grid by it
    gboolean quick;         // numbers only, for a search: no casting and no mesh
    double close_holes;     // m: holes along the pull up to this wide are cast solid; 0 for none
    double fillet;          // m, radius of internal corners; 0 leaves them as they are
    double min_wall;        // m: thinner walls grow to it; 0 leaves them as they are
    double peg_slenderness; // most that is borne, for the answer's close_holes; 0 or NAN: not asked
    const SolidMesh *part;  // the part in mould axes, whose vertices the mesh is to hold; or NULL
} EnvelopeOptions;

typedef struct {
    SolidGrid *casting;  // signed distance of the envelope, negative in the metal
    SolidMesh *mesh;     // its surface, closed, outward
    CauseBodies *bodies; // what each cause adds, where; NULL when quick
    double parting;      // z of the parting, m, mould axes
    double part_volume;  // m3, by the grid
    double allowance_volume, stub_volume, undercut_volume, draft_volume; // m3 added by each cause
    double wall_volume, fillet_volume, closed_volume;                    // m3, likewise
    double volume;                                                       // m3, of the envelope
    double area;                   // m2, of the envelope's surface
    double cope_volume;            // m3, the share of the envelope above the parting
    double depth_cope, depth_drag; // m, depth of draw each side
    Peg peg;                       // the most slender peg of sand in its holes; none if quick
    double close_holes;            // m, the least of that option with which no peg is more slender
                                   // than is borne; 0 when none is, INFINITY when none helps
} EnvelopeResult;

void envelope_result_clear(EnvelopeResult *result);

// Margin and band (m) a part's distance must have for these options.
double envelope_reach(const EnvelopeOptions *options, double cell);

// `part` is the signed 3D distance of the part in mould axes (solid_grid_distance) with margin and
// band of envelope_reach; the grid is widened here for draft and stub. `parting` NAN: the height
// that adds least is chosen. What a stub makes necessary below itself counts as stub, not undercut.
// FALSE with an error when stopped, when the part has no metal on the grid, or over the limit of
// cells.
gboolean envelope_make(const SolidGrid *part, const EnvelopeOptions *options, double parting,
                       EnvelopeResult *result, Progress *progress, GError **error);

// Cells (a count) of the widened grid `envelope_make` works on for a part grid, to choose a
// resolution by.
double envelope_cells(const SolidGrid *part, const EnvelopeOptions *options);

G_END_DECLS
