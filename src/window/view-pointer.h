// SPDX-License-Identifier: GPL-3.0-or-later
// What the mouse does in every widget with a drawing in it: point, drag, turn the wheel.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

// Handlers as GtkEventControllerMotion, GtkEventControllerScroll and GtkGestureDrag call them; NULL
// where there is nothing to do.
typedef struct {
    GCallback moved, left;
    GCallback scrolled;
    GtkEventControllerScrollFlags axes; // of the wheel
    GCallback drag_begun, drag_moved, drag_ended, drag_cancelled;
    guint button; // that drags; 0: any
} FwViewPointer;

void fw_view_pointer_watch(GtkWidget *widget, const FwViewPointer *pointer);

gboolean fw_view_pointer_zooms(GtkEventController *scroll); // the wheel, with Ctrl
gboolean fw_view_pointer_turns(GtkEventController *scroll); // sideways, with Shift
double fw_view_pointer_factor(double notches); // by which a wheel zooms; down makes things smaller
// Where in the widget of a controller its event happened; FALSE when that is not told.
gboolean fw_view_pointer_place(GtkEventController *controller, double *x, double *y);

G_END_DECLS
