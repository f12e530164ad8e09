// SPDX-License-Identifier: GPL-3.0-or-later
// The flask in plan and in section, with its cavities, gating and index tabs. Plan -> Scene.
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

// Views by name: "plan" (both halves, seen on the parting), "cope" and "drag" (one half in plan),
// "section" (lengthwise), "across" (the other way), "end" (from outside) and "stack" (board, drag,
// parting and cope one over the other). NULL with BASE_ERROR_NOT_FOUND for a name not known (the
// message lists them), or when the plan has no mould (the message says why).
Scene *sketch_flask_scene(const Plan *plan, const char *view, GError **error);
// The same, with the plane of a section at `at`: m across the flask for "section", along it for
// "across", marked in the plans too; NAN: through the middle of the first cavity.
Scene *sketch_flask_scene_at(const Plan *plan, const char *view, double at, GError **error);
// The same with both planes: of "section" and of "across", m; each NAN as above.
Scene *sketch_flask_scene_cut(const Plan *plan, const char *view, double along, double across,
                              GError **error);
// Can the view be cut elsewhere?
gboolean sketch_flask_is_cut(const char *view);
const char *const *sketch_flask_views(void);

// The same from the results themselves. Parts have the ids "flask", "cavity-1" .. (in the order of
// the layout), "sprue", "well", "runner-1" .., "gate-1" .., "riser-1" .. (of the cavity with that
// number), "tab-1" .., "vent-1" .., "cover-wall", "cover-between", "cover-top", "cover-bottom".
// `pattern` may be NULL: the cavities are then left out. Never NULL.
Scene *flask_plan_scene(const MouldLayout *layout, const PatternResult *pattern,
                        const UnitSet *units);
typedef enum {
    FLASK_BOTH,
    FLASK_COPE,
    FLASK_DRAG
} FlaskHalf;
// One half alone, seen from above, with what it holds; `at` as in sketch_flask_scene_at.
Scene *flask_half_scene(const MouldLayout *layout, const PatternResult *pattern,
                        const UnitSet *units, FlaskHalf half, double at);
// What stays the same of a casting's outlines from one drawing to the next, made once for many.
// Immutable, reference-counted.
typedef struct FlaskOutlines FlaskOutlines;
FlaskOutlines *flask_outlines_new(const MouldLayout *layout, const PatternResult *pattern,
                                  FlaskHalf half);
void flask_outlines_unref(const FlaskOutlines *outlines);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FlaskOutlines, flask_outlines_unref)

// What a plan view shows besides the layout.
typedef struct {
    double along, across;   // m, where the views "section" and "across" are cut; NAN as above
    const gboolean *locked; // of each cavity: marked as one that stays; NULL: none
    guint moving;           // number of the cavity being moved, whose own covers are shown; 0: none
    const FlaskOutlines *outlines; // of the same flask and half; NULL: made here
    gboolean in_motion; // one drawing of many: words and dimensions stand where they first would
} FlaskMarks;
// With covers that fall short of what the layout was drawn for in ROLE_FAILS. Within a frame of a
// screen when the outlines are given and it is in motion.
Scene *flask_marked_scene(const MouldLayout *layout, const PatternResult *pattern,
                          const UnitSet *units, FlaskHalf half, const FlaskMarks *marks);
// How far the point (x, y) (m, flask axes) at the parting is from the wall and from the nearest
// cavity, in words; NULL outside the flask and inside a cavity. Free.
char *flask_sand_words(const MouldLayout *layout, const UnitSet *units, double x, double y);
// "plan", "cope" and "drag" by name; TRUE if it is one.
gboolean sketch_flask_is_plan(const char *view, FlaskHalf *half);

// The plane stands across y through the middle of the first cavity.
Scene *flask_section_scene(const MouldLayout *layout, const PatternResult *pattern,
                           const UnitSet *units);
// The plane y = `at`, or with `across` x = `at` (m, flask axes); NAN: through the first cavity.
Scene *flask_cut_scene(const MouldLayout *layout, const PatternResult *pattern,
                       const UnitSet *units, gboolean across, double at);
// The closed flask from the end at -x: what is inside as hidden edges.
Scene *flask_end_scene(const MouldLayout *layout, const PatternResult *pattern,
                       const UnitSet *units);
// Cut lengthwise like flask_section_scene, with bottom board, drag, parting and cope drawn apart.
Scene *flask_stack_scene(const MouldLayout *layout, const PatternResult *pattern,
                         const UnitSet *units);

G_END_DECLS
