// SPDX-License-Identifier: GPL-3.0-or-later
// Moving cavities, the sprue and the planes of the sections by hand in the flask's plan views.
// While something is moved its own layout is drawn at every frame; when it is let go the desk gets
// one edit, and the plan follows. The mouse and the keys (placing-gestures.c) call what tests call.
#pragma once

#include "plan/desk.h"
#include "sketch/flask.h"
#include "window/sketch-view.h"

G_BEGIN_DECLS

#define FW_TYPE_PLACING (fw_placing_get_type())
G_DECLARE_FINAL_TYPE(FwPlacing, fw_placing, FW, PLACING, GObject)

// Signals: "said" (const char *words), a passing word; "cut" (gboolean across, double at), a plane
// was moved to `at` (m); "changed", what is chosen is another; "command" (const char *action ->
// gboolean), a key or the mouse asks for an action of the window, done or not; "menu" (double x,
// double y), asks for the menu at a place of the sketch.
FwPlacing *fw_placing_new(Desk *desk, FwSketchView *sketch);

// The view of the flask that is shown, and where it is cut (m; NAN: as the drawing does by itself).
void fw_placing_set_view(FwPlacing *placing, const char *view, double along, double across);
// While it rests, the mouse is somebody else's.
void fw_placing_set_resting(FwPlacing *placing, gboolean resting);
gboolean fw_placing_is_shown(FwPlacing *placing);         // a plan view with something to move
const MouldLayout *fw_placing_layout(FwPlacing *placing); // as shown; NULL in other views

// Does the plan not follow yet what was moved? Then the drawing of the plan is not to be shown.
gboolean fw_placing_is_waiting(FwPlacing *placing);
void fw_placing_drawn(FwPlacing *placing); // a drawing of the plan is shown

// Number of the cavity that was chosen last, 0 for none. Choosing moves the keyboard's focus.
guint fw_placing_chosen(FwPlacing *placing);
void fw_placing_choose(FwPlacing *placing, guint cavity);
gboolean fw_placing_is_locked(FwPlacing *placing, guint cavity);
gboolean fw_placing_has_sprue(FwPlacing *placing); // it is the sprue that is chosen
const char *fw_placing_part(FwPlacing *placing);   // its id, or NULL

// A drag: takes hold of what lies at (x, y) in the sketch, FALSE when nothing there can be moved;
// moved by (dx, dy) since then, `free` without snapping; let go or dropped.
gboolean fw_placing_begin(FwPlacing *placing, double x, double y);
void fw_placing_move(FwPlacing *placing, double dx, double dy, gboolean free);
void fw_placing_end(FwPlacing *placing);
void fw_placing_cancel(FwPlacing *placing);
// The pointer's name over (x, y), or NULL.
const char *fw_placing_cursor(FwPlacing *placing, double x, double y);
gboolean fw_placing_is_moving(FwPlacing *placing);

// Moves what is chosen by (dx, dy), m. Nudges in quick succession are one step to undo.
void fw_placing_nudge(FwPlacing *placing, double dx, double dy);
void fw_placing_settle(FwPlacing *placing); // ends such a succession
// "turn", "turn-back", "mirror", "copy", "delete", "lock", "align-row", "align-column", "again",
// "rest".
void fw_placing_do(FwPlacing *placing, const char *what);
// Where what is chosen stands, and putting it there. FALSE when nothing is chosen or it is locked.
gboolean fw_placing_get(FwPlacing *placing, PlacementSpot *spot);
gboolean fw_placing_put(FwPlacing *placing, const PlacementSpot *spot);
UnitSet fw_placing_units(FwPlacing *placing);
gboolean fw_placing_by_hand(FwPlacing *placing); // is anything placed by hand?

// placing-gestures.c
void fw_placing_add_controllers(FwPlacing *placing, GtkWidget *sketch);

G_END_DECLS
