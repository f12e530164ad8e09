// SPDX-License-Identifier: GPL-3.0-or-later
// Controllers for pointing, dragging and the wheel, and the questions asked of their events.
#include "window/view-pointer.h"

#include <math.h>

static void
connect(gpointer controller, const char *signal, GCallback handler, GtkWidget *widget)
{
    if (handler)
        g_signal_connect(controller, signal, handler, widget);
}

static void
add_motion(GtkWidget *widget, const FwViewPointer *p)
{
    GtkEventController *motion = gtk_event_controller_motion_new();
    connect(motion, "motion", p->moved, widget);
    connect(motion, "leave", p->left, widget);
    gtk_widget_add_controller(widget, motion);
}

static void
add_scroll(GtkWidget *widget, const FwViewPointer *p)
{
    GtkEventController *scroll = gtk_event_controller_scroll_new(p->axes);
    connect(scroll, "scroll", p->scrolled, widget);
    gtk_widget_add_controller(widget, scroll);
}

static void
add_drag(GtkWidget *widget, const FwViewPointer *p)
{
    GtkGesture *drag = gtk_gesture_drag_new();
    gtk_gesture_single_set_button(GTK_GESTURE_SINGLE(drag), p->button);
    connect(drag, "drag-begin", p->drag_begun, widget);
    connect(drag, "drag-update", p->drag_moved, widget);
    connect(drag, "drag-end", p->drag_ended, widget);
    connect(drag, "cancel", p->drag_cancelled, widget);
    gtk_widget_add_controller(widget, GTK_EVENT_CONTROLLER(drag));
}

void
fw_view_pointer_watch(GtkWidget *widget, const FwViewPointer *pointer)
{
    if (pointer->moved || pointer->left)
        add_motion(widget, pointer);
    add_scroll(widget, pointer);
    add_drag(widget, pointer);
}

gboolean
fw_view_pointer_zooms(GtkEventController *scroll)
{
    return (gtk_event_controller_get_current_event_state(scroll) & GDK_CONTROL_MASK) != 0;
}

gboolean
fw_view_pointer_turns(GtkEventController *scroll)
{
    return (gtk_event_controller_get_current_event_state(scroll) & GDK_SHIFT_MASK) != 0;
}

double
fw_view_pointer_factor(double notches)
{
    return exp(-0.15 * notches);
}

gboolean
fw_view_pointer_place(GtkEventController *controller, double *x, double *y)
{
    GdkEvent *event = gtk_event_controller_get_current_event(controller);
    GtkWidget *widget = gtk_event_controller_get_widget(controller);
    GtkNative *native = gtk_widget_get_native(widget);
    double ex, ey, ox, oy;
    graphene_point_t place;
    if (!event || !native || !gdk_event_get_position(event, &ex, &ey))
        return FALSE;
    gtk_native_get_surface_transform(native, &ox, &oy);
    if (!gtk_widget_compute_point(GTK_WIDGET(native), widget,
                                  &GRAPHENE_POINT_INIT((float)(ex - ox), (float)(ey - oy)), &place))
        return FALSE;
    *x = place.x;
    *y = place.y;
    return TRUE;
}
