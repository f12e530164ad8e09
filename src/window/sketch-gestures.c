// SPDX-License-Identifier: GPL-3.0-or-later
// What the mouse does in a drawing: pointing, choosing, panning and zooming at the pointer.
#include <math.h>

#include "window/drawing.h"
#include "window/sketch-view-private.h"
#include "window/view-pointer.h"

// Zooms so that the scene point under (x, y) stays there.
void
sketch_zoom_at(FwSketchView *self, double factor, double x, double y)
{
    if (!self->scene)
        return;
    gboolean stretch = scene_stretches(self->scene);
    PaintView whole = paint_fit(self->scene, self->view.width, self->view.height, SKETCH_MARGIN);
    double wanted = CLAMP(self->view.scale_x * factor, whole.scale_x, whole.scale_x * 60);
    factor = wanted / self->view.scale_x;
    double sx, sy, ex, ey;
    paint_to_scene(&self->view, x, y, &sx, &sy);
    self->view.scale_x *= factor;
    if (!stretch)
        self->view.scale_y *= factor;
    paint_to_scene(&self->view, x, y, &ex, &ey);
    self->view.x += sx - ex;
    self->view.y += sy - ey;
    self->fitted = FALSE;
    if (wanted <= whole.scale_x * 1.0001)
        fw_sketch_view_fit(self);
    sketch_forget_still(self);
    gtk_widget_queue_allocate(GTK_WIDGET(self));
}

// Moves what is seen by device units, as far as the scene goes.
void
sketch_pan_by(FwSketchView *self, double dx, double dy)
{
    if (!self->scene || self->fitted)
        return;
    self->view.x += dx / self->view.scale_x;
    if (!scene_stretches(self->scene))
        self->view.y += (self->view.y_down ? dy : -dy) / self->view.scale_y;
    sketch_forget_still(self);
    gtk_widget_queue_allocate(GTK_WIDGET(self));
}

void
sketch_set_hover(FwSketchView *self, const ScenePart *part)
{
    if (g_strcmp0(self->hover, part ? part->id : NULL) == 0)
        return;
    g_free(self->hover);
    self->hover = g_strdup(part ? part->id : NULL);
    fw_drawing_set_tip(GTK_WIDGET(self), part ? part->label : NULL,
                       part ? part->description : NULL);
    gtk_widget_set_cursor_from_name(GTK_WIDGET(self), part ? "pointer" : NULL);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void
on_pointer_moved_cb(GtkEventControllerMotion *controller, double x, double y, FwSketchView *self)
{
    if (self->scene)
        sketch_set_hover(self, fw_sketch_view_pick(self, x, y));
}

static void
on_pointer_left_cb(GtkEventControllerMotion *controller, FwSketchView *self)
{
    sketch_set_hover(self, NULL);
}

static void
on_clicked_cb(GtkGestureClick *gesture, int n, double x, double y, FwSketchView *self)
{
    gtk_widget_grab_focus(GTK_WIDGET(self));
    const ScenePart *part = fw_sketch_view_pick(self, x, y);
    if (part)
        sketch_choose(self, part->id);
}

static void
on_drag_begun_cb(GtkGestureDrag *gesture, double x, double y, FwSketchView *self)
{
    self->pan_x = self->view.x;
    self->pan_y = self->view.y;
}

static void
on_drag_moved_cb(GtkGestureDrag *gesture, double dx, double dy, FwSketchView *self)
{
    if (self->fitted || fabs(dx) + fabs(dy) < 3)
        return;
    gtk_gesture_set_state(GTK_GESTURE(gesture), GTK_EVENT_SEQUENCE_CLAIMED);
    self->view.x = self->pan_x;
    self->view.y = self->pan_y;
    sketch_pan_by(self, -dx, -dy);
}

static gboolean
on_scrolled_cb(GtkEventControllerScroll *controller, double dx, double dy, FwSketchView *self)
{
    GtkEventController *scroll = GTK_EVENT_CONTROLLER(controller);
    if (fw_view_pointer_zooms(scroll)) {
        double x = self->view.width / 2, y = self->view.height / 2;
        fw_view_pointer_place(scroll, &x, &y);
        sketch_zoom_at(self, fw_view_pointer_factor(dy), x, y);
        return GDK_EVENT_STOP;
    }
    gboolean sideways = fw_view_pointer_turns(scroll) ||
                        (self->scene && scene_stretches(self->scene));
    sketch_pan_by(self, 40 * (sideways ? dx + dy : dx), sideways ? 0 : 40 * dy);
    return GDK_EVENT_STOP;
}

void
sketch_add_controllers(FwSketchView *self)
{
    static const FwViewPointer pointer = {.moved = G_CALLBACK(on_pointer_moved_cb),
                                          .left = G_CALLBACK(on_pointer_left_cb),
                                          .scrolled = G_CALLBACK(on_scrolled_cb),
                                          .axes = GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES,
                                          .drag_begun = G_CALLBACK(on_drag_begun_cb),
                                          .drag_moved = G_CALLBACK(on_drag_moved_cb)};
    fw_view_pointer_watch(GTK_WIDGET(self), &pointer);
    GtkGesture *click = gtk_gesture_click_new();
    g_signal_connect(click, "released", G_CALLBACK(on_clicked_cb), self);
    gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(click));
}
