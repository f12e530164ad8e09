// SPDX-License-Identifier: GPL-3.0-or-later
// Shows a shaded part and lets it be turned. Pictures are made in a thread; while one is made the
// last one stays, and of the views asked for meanwhile only the newest is made. While it is turned
// a picture that takes longer than a frame is made roughly first.
//
// Mouse: dragging turns, the wheel zooms. Keys: arrows turn, plus and minus zoom, 0 shows the whole
// part, Home puts it back as it was.
#pragma once

#include <gtk/gtk.h>

#include "sketch/shade.h"

G_BEGIN_DECLS

#define FW_TYPE_SHADE_VIEW (fw_shade_view_get_type())
G_DECLARE_FINAL_TYPE(FwShadeView, fw_shade_view, FW, SHADE_VIEW, GtkWidget)

GtkWidget *fw_shade_view_new(void);
// NULL model: `words` are shown instead. `facts` are what a screen reader is told of it.
void fw_shade_view_set_model(FwShadeView *view, const ShadeModel *model, const char *words,
                             const char *facts);
void fw_shade_view_turn(FwShadeView *view, double turn, double tilt); // by, rad
void fw_shade_view_get_angles(FwShadeView *view, double *turn, double *tilt);
void fw_shade_view_zoom(FwShadeView *view, double factor);
void fw_shade_view_fit(FwShadeView *view);
void fw_shade_view_reset(FwShadeView *view);
// What it is a picture of, for a screen reader; otherwise the part along its pull.
void fw_shade_view_set_title(FwShadeView *view, const char *title);
gboolean fw_shade_view_is_settled(FwShadeView *view); // the newest view is shown

// The way towards the eye, unit, in the model's axes.
Vec3 fw_shade_view_eye(FwShadeView *view);
void fw_shade_view_look_from(FwShadeView *view, Vec3 eye);
// An area stands out: 1 + its number, or 0 for none. `words` tell a screen reader of it. A new
// model has none marked.
void fw_shade_view_mark(FwShadeView *view, guint32 area, const char *words);
guint32 fw_shade_view_get_marked(FwShadeView *view);

G_END_DECLS
