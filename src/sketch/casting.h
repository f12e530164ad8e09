// SPDX-License-Identifier: GPL-3.0-or-later
// The rough casting in section, laid over the finished part: the added metal is hatched by cause.
// Plan -> Scene. Lengths are those of the cold casting.
#pragma once

#include "part/cause-cut.h"
#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

typedef struct {
    int axis;  // 0 across: x = at; 1 along: y = at; 2 level: z = at
    double at; // m, from the casting's middle; a level one from the parting, up
} CastingPlane;

// "across", "along", "level" and NULL, by axis.
extern const char *const casting_cuts[];
// The axis of a name, -1 if it is none.
int casting_cut_axis(const char *name);
// Where planes of this axis meet the casting, m.
void casting_range(const PatternResult *pattern, int axis, double *low, double *high);

// Where things lie on the sheet, which is the same for every plane of an axis.
typedef struct {
    double grain;         // mm; text of full size takes it for SCENE_GRAIN_PX
    double width, height; // mm
    SolidPoint section;   // mm, of the plane's origin; a metre is 1000 mm there
    SolidPoint map;       // mm, of the origin in the small picture
    double map_scale;     // mm a metre in the small picture
    SolidPoint min, max;  // m, box of the casting in the plane's coordinates
} CastingSheet;
CastingSheet casting_sheet(const PatternResult *pattern, int axis);
// With room for more than the casting: `min` and `max` (m) in the plane's coordinates.
CastingSheet casting_sheet_wide(const PatternResult *pattern, int axis, SolidPoint min,
                                SolidPoint max);

// NULL with an error: no rough casting (the message says why), or the plane does not meet it. Parts
// have the ids "cause-part", "cause-allowance", "cause-wall", "cause-fillet", "cause-closed",
// "cause-undercut", "cause-stub", "cause-draft", "casting", "depth-cope", "depth-drag", "draft" and
// "plane" (the line in the small picture that says where it is cut).
Scene *sketch_casting_scene(const Plan *plan, const CastingPlane *plane, GError **error);
// The same from the result and a cut of it. Never NULL.
Scene *casting_scene(const PatternResult *pattern, const CauseCut *cut, const UnitSet *units);

// What there is at a place (m) of the plane, and how thick: "Draft, 1.2 mm thick here"; NULL
// outside. Free.
char *casting_words_at(const CauseCut *cut, SolidPoint place, const UnitSet *units);

G_END_DECLS
