// SPDX-License-Identifier: GPL-3.0-or-later
// What lies on one pattern board, in lines only and in true size: to be printed 1:1 and laid on the
// board, or cut. Plan -> Scene.
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

typedef enum {
    TEMPLATE_COPE, // seen from above on the board the cope is rammed on: as in the flask
    TEMPLATE_DRAG, // the drag is rammed upside down: turned over about the flask's length
} TemplateHalf;

// Flask inside, parting outlines of the cavities at the pattern's size, what of sprue, well,
// runners, gates and risers this half holds, index tabs, centre lines; all in mm. `pattern` may be
// NULL: the cavities are then left out. Never NULL.
Scene *template_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units,
                      TemplateHalf half);

// The same of a plan; NULL with BASE_ERROR_NOT_FOUND and the reason when it has no mould.
Scene *sketch_template_scene(const Plan *plan, TemplateHalf half, GError **error);

G_END_DECLS
