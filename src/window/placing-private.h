// SPDX-License-Identifier: GPL-3.0-or-later
// What the one that moves things holds; for placing.c and its files only.
#pragma once

#include "window/placing-model.h"
#include "window/placing.h"

G_BEGIN_DECLS

typedef enum {
    GRIP_NONE,
    GRIP_CAVITY,
    GRIP_SPRUE,
    GRIP_ALONG, // plane of "section"
    GRIP_ACROSS
} PlacingGrip;

struct _FwPlacing {
    GObject parent;
    Desk *desk;
    FwSketchView *sketch;
    char *view, *job;
    double along, across;
    FlaskHalf half;
    gboolean plan_view;
    gboolean resting; // the mouse does something else
    guint chosen;     // cavity, from 1
    gboolean sprue_chosen;
    gboolean crowded; // there was no room for the copy
    guint wanted;     // cavity that is chosen as soon as it is drawn, or 0
    // what is shown while it is ahead of the plan
    GArray *spots;
    double sprue_x, sprue_y; // NAN: found by the layout
    const MouldLayout *now;
    gboolean waiting;
    // in hand
    PlacingGrip grip;
    SolidPoint start, at; // of what is held, m
    double scale;         // device units per metre
    double held_along, held_across;
    double dx, dy; // pending, device units
    gboolean moving, free;
    guint tick, quiet;
    PlacingSnap snap;
    const PatternResult *outlined; // what `outlines` are of
    FlaskHalf outlined_half;
    FlaskOutlines *outlines;
};

// placing.c
void placing_say(FwPlacing *placing, const char *words);
PlacementSpot *placing_spot(FwPlacing *placing, guint index);
void placing_set_chosen(FwPlacing *placing, guint cavity, gboolean sprue);
gboolean placing_refuse_locked(FwPlacing *placing); // with a word
// What a thing of the drawing is to the hand, and the number of its cavity.
PlacingGrip placing_grip(const char *part_id, guint *cavity);
// placing-show.c
char *placing_field_text(FwPlacing *placing, const char *path);
// What stands where, unless that is known better than by the plan. FALSE: nothing can be moved.
gboolean placing_take_up(FwPlacing *placing);
void placing_show(FwPlacing *placing);        // draws what is in hand
void placing_show_guides(FwPlacing *placing); // what it snapped to
void placing_lay_out(FwPlacing *placing);     // the layout of the spots as they are, drawn
void placing_commit(FwPlacing *placing);      // the spots go to the desk
void placing_commit_sprue(FwPlacing *placing);
void placing_say_place(FwPlacing *placing);

G_END_DECLS
