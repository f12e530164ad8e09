// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "pattern": how the part draws and the rough casting that is poured.
#pragma once

#include "part/envelope.h"
#include "part/face.h"
#include "part/part.h"
#include "part/pull-stage.h"
#include "solid/section.h"

G_BEGIN_DECLS

typedef struct {
    Vec3 pull;          // unit, part axes, into the cope
    double rotation[9]; // part axes -> mould axes (z up), rows
    Vec3 shift;         // then added, so that the parting is z = 0 and the casting's plan box is
                        // centred on x = y = 0
    SolidMesh *part;    // the finished part in mould axes, m
    SolidGrid *part_distance;        // signed distance of the part, mould axes
    SolidGrid *casting;              // envelope, signed distance, mould axes
    SolidMesh *mesh;                 // its surface, closed, mould axes, m
    double volume, area;             // rough casting, m3, m2
    double projected_area;           // at the parting and above, seen along the pull, m2
    double height_cope, height_drag; // m above and below the parting
    Vec3 min, max;                   // box of the rough casting, mould axes
    SolidOutline *shadow; // outline seen along the pull; the skin lies in it, to a thousandth of a
                          // millimetre
    SolidOutline *parting_outline; // at z = 0; both halves widen to it, so it is the shadow too
    FaceDraft faces;     // draft and undercut of the part's triangles, for this pull and parting
    CauseBodies *bodies; // what each cause adds, where
    double cause_volume[CAUSE_COUNT]; // m3 added by each; they sum to the volume
    SolidOutline *side[2];            // the casting seen along x, (y, z), and along y, (x, z)
    gboolean overlaps; // the part's shells overlap by enough to be seen in its volume
    double draft;      // rad
    double outside;    // share of the part's skin that is not as deep in the casting as it should
    double thinnest;   // m, the rough casting's walls are at least this; NAN if unknown
} PatternResult;

PatternResult *pattern_result_ref(const PatternResult *result);
void pattern_result_unref(const PatternResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(PatternResult, pattern_result_unref)

// Figures pattern.* but the pull's, and casting.*. NULL with an error when stopped; a part that is
// not closed, or no pull, gives NULL without an error and every figure unknown.
extern const char *const pattern_reads[];
PatternResult *pattern_stage(const Inputs *inputs, const PartResult *part, const PullResult *pull,
                             FigureList *figures, Progress *progress, GError **error);

// The same without a book or figures, drawn along `pull` (part axes, any length but 0); `envelope`
// says what each cause added and is to be cleared by the caller.
PatternResult *pattern_make(const PartResult *part, const EnvelopeOptions *options, Vec3 pull,
                            EnvelopeResult *envelope, Progress *progress, GError **error);

G_END_DECLS
