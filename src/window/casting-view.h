// SPDX-License-Identifier: GPL-3.0-or-later
// The rough casting in section, with a cutting plane that is moved by hand: drag the line in the
// small picture, or Page Up and Page Down (with Shift ten times as far), or type where. What lies
// under the pointer is named, with the reason why it is there. The plane is the view's own affair
// and nothing in the book.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"
#include "sketch/casting.h"
#include "window/sketch-view.h"

G_BEGIN_DECLS

#define FW_TYPE_CASTING_VIEW (fw_casting_view_get_type())
G_DECLARE_FINAL_TYPE(FwCastingView, fw_casting_view, FW, CASTING_VIEW, GtkBox)

// Signals: "part-chosen", as the sketch view's, from the view it has.
GtkWidget *fw_casting_view_new(void);
void fw_casting_view_set_desk(FwCastingView *view, Desk *desk); // kept; once
FwSketchView *fw_casting_view_sketch(FwCastingView *view);
CastingPlane fw_casting_view_plane(FwCastingView *view);
// Kept within the casting.
void fw_casting_view_cut(FwCastingView *view, const CastingPlane *plane);
// What is shown, for a file; NULL with an error.
Scene *fw_casting_view_scene(FwCastingView *view, GError **error);
// Not about to be drawn anew.
gboolean fw_casting_view_is_settled(FwCastingView *view);

G_END_DECLS
