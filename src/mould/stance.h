// SPDX-License-Identifier: GPL-3.0-or-later
// How a casting stands in a row: turned by an angle against the runner, how far it then reaches,
// and how close its equal neighbour may stand, by their true outlines.
#pragma once

#include "solid/section.h"

G_BEGIN_DECLS

typedef struct {
    double turn;                     // rad, against the runner's u
    double left, right, front, back; // m, reach from the casting's origin; front faces the runner
    double attach_u, attach_v;       // where gate or neck meets it, from the origin
    double pitch;                    // m, least along the runner to an equal neighbour
    // A riser that stands beside the casting; riser_r 0 without. All reach above counts it, `bare`
    // is the casting's own front.
    double riser_u, riser_v, riser_r, bare;
    gboolean hot;    // the gate goes into it; attach is then its rim
    gboolean barred; // not to be used: other stances bring the gate into the riser
} MouldStance;

// A riser beside the casting, in the casting's own axes, m (mould/beside.h).
typedef struct {
    SolidPoint at, joint; // its middle; where its neck joins the casting
    double radius;        // 0 without
} MouldBeside;

// What else a cavity of a row brings along, and the sand that is asked for.
typedef struct {
    double riser_diameter, neck_gap; // m; 0 without
    double cover;                    // m, sand between
    const MouldBeside *beside;       // NULL without
} MouldRow;

// `shadow` is the outline all sand is measured from, `skin` the one a gate meets (at the parting);
// both as moulded, about the origin.
MouldStance mould_stance(const SolidOutline *shadow, const SolidOutline *skin, double turn,
                         const MouldRow *row);

// The same without the pitch, which takes longest. `beside` NULL or of radius 0: no riser there.
MouldStance mould_stance_reach(const SolidOutline *shadow, const SolidOutline *skin, double turn,
                               const MouldBeside *beside);

// The outline turned about the origin.
SolidOutline *mould_stance_turned(const SolidOutline *outline, double turn);

// A stance as its neighbours in a row see it: the shadow's outline with the riser and the line of
// the gate, in steps that `mould_stance_sand` allows for; its front at v = 0.
SolidOutline *mould_stance_whole(const SolidOutline *shadow, const MouldStance *stance,
                                 const MouldRow *row);
double mould_stance_sand(const MouldRow *row);

// The outline made larger, with the points that matter to a tenth of a hundredth of a millimetre.
SolidOutline *mould_stance_scaled(const SolidOutline *outline, double scale);

// The least shift along u from which on `b` stays `cover` away from `a` for good; 0 when it always
// does. Both are outlines in the same axes. Exact for outlines: the last that stops holding is a
// corner against a side.
double mould_stance_shift(const SolidOutline *a, const SolidOutline *b, double cover);

// The least u at height v of what lies within `c` of the side from a to b; INFINITY without.
double mould_stance_least_at(SolidPoint a, SolidPoint b, double v, double c);

G_END_DECLS
