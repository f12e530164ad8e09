// SPDX-License-Identifier: GPL-3.0-or-later
// A casting's outlines as a drawing of the flask in plan shows them. Cutting grids and leaving out
// points takes longer than a frame of a screen; while cavities are moved they are made once.
#include <math.h>

#include "sketch/flask-kit.h"

static const double heights[] = {0.35, 0.8}; // of the part's height in the cope, for bosses, steps

static void
clear_outlines(gpointer data)
{
    FlaskOutlines *outlines = data;
    solid_outline_unref(outlines->shadow);
    for (guint i = 0; i < G_N_ELEMENTS(outlines->part); i++)
        solid_outline_unref(outlines->part[i]);
    flask_outlines_unref(outlines->guest);
}

// The finished part from above: its outline, and its sections at two heights in the cope; of the
// drag alone, at two depths in it.
static void
find_part_lines(FlaskOutlines *o, const FlaskDraft *d, const PatternResult *pattern, FlaskHalf half)
{
    if (!pattern->part_distance)
        return;
    o->part[0] = flask_plain(d, solid_section_shadow(pattern->part_distance, 0.0));
    double top = 0.0, up = half == FLASK_DRAG ? -1.0 : 1.0;
    for (guint32 i = 0; pattern->part && i < pattern->part->n_vertices; i++)
        top = fmax(top, up * pattern->part->vertices[i].z);
    top *= up;
    for (guint i = 0; i < G_N_ELEMENTS(heights) && top != 0.0; i++)
        o->part[i + 1] = flask_plain(
            d, solid_section_grid(pattern->part_distance, 2, heights[i] * top, 0.0));
}

FlaskOutlines *
flask_outlines_new(const MouldLayout *layout, const PatternResult *pattern, FlaskHalf half)
{
    g_return_val_if_fail(layout != NULL, NULL);
    static const UnitSet units = {0};
    FlaskOutlines *outlines = g_atomic_rc_box_new0(FlaskOutlines);
    if (!pattern)
        return outlines;
    FlaskDraft draft;
    FlaskExtent extent = flask_plan_extent(layout);
    flask_draft_start(&draft, layout, pattern, &units, &extent, "");
    if (pattern->shadow)
        outlines->shadow = flask_plain(&draft, solid_outline_ref(pattern->shadow));
    find_part_lines(outlines, &draft, pattern, half);
    if (layout->guest && layout->n_guests > 0) {
        FlaskOutlines *guest = outlines->guest = g_atomic_rc_box_new0(FlaskOutlines);
        draft.growth = layout->guest->growth;
        if (layout->guest->pattern->shadow)
            guest->shadow = flask_plain(&draft, solid_outline_ref(layout->guest->pattern->shadow));
        find_part_lines(guest, &draft, layout->guest->pattern, half);
    }
    scene_unref(draft.scene);
    return outlines;
}

void
flask_outlines_unref(const FlaskOutlines *outlines)
{
    if (outlines)
        g_atomic_rc_box_release_full((gpointer)outlines, clear_outlines);
}
