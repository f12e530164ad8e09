// SPDX-License-Identifier: GPL-3.0-or-later
// The ruler is a scene of its own over the drawing.
#include "window/ruler.h"

#include <glib/gi18n.h>
#include <math.h>

#define SNAP 8.0 // device units

struct _FwRuler {
    GObject parent;
    FwSketchView *sketch;
    UnitSet units;
    gboolean active, held;
    double x, y; // device units, where the drag began
    SolidPoint from;
};

G_DEFINE_FINAL_TYPE(FwRuler, fw_ruler, G_TYPE_OBJECT)

static guint said_signal;

gboolean
fw_ruler_is_active(FwRuler *self)
{
    return self->active;
}

void
fw_ruler_set_units(FwRuler *self, const UnitSet *units)
{
    self->units = *units;
}

void
fw_ruler_set_active(FwRuler *self, gboolean active)
{
    self->active = active;
    self->held = FALSE;
    if (!active)
        fw_sketch_view_set_overlay(self->sketch, NULL);
}

static void
take_nearer(SolidPoint place, double x, double y, SolidPoint *best, double *least)
{
    double away = hypot(x - place.x, y - place.y);
    if (away < *least) {
        *least = away;
        *best = (SolidPoint){x, y};
    }
}

// The nearest point of an outline, the middle or a quarter of a circle, if one is near.
static SolidPoint
snap(FwRuler *self, SolidPoint place, double scale)
{
    const Scene *scene = fw_sketch_view_scene(self->sketch);
    SolidPoint best = place;
    double least = SNAP / scale;
    for (guint i = 0; scene && i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if (shape->kind != SHAPE_PATH && shape->kind != SHAPE_CIRCLE)
            continue;
        for (guint k = 0; k < shape->n_points; k++)
            take_nearer(place, shape->points[k].x, shape->points[k].y, &best, &least);
        for (int q = 0; shape->kind == SHAPE_CIRCLE && q < 4; q++)
            take_nearer(place, shape->points[0].x + (q - 1) % 2 * shape->radius,
                        shape->points[0].y + (q - 2) % 2 * shape->radius, &best, &least);
    }
    return best;
}

static gboolean
find_place(FwRuler *self, double x, double y, SolidPoint *place)
{
    double scale;
    if (!fw_sketch_view_to_scene(self->sketch, x, y, place, &scale))
        return FALSE;
    *place = snap(self, *place, scale);
    return TRUE;
}

static char *
write_length(FwRuler *self, double mm)
{
    double even = self->units.inches ? 25.4e-6 : 1e-5;
    return quantity_format(QUANTITY_LENGTH, round(mm / 1000 / even) * even + 0.0, &self->units);
}

gboolean
fw_ruler_begin(FwRuler *self, double x, double y)
{
    self->held = self->active && find_place(self, x, y, &self->from);
    self->x = x;
    self->y = y;
    return self->held;
}

void
fw_ruler_move(FwRuler *self, double dx, double dy)
{
    SolidPoint to;
    if (!self->held || !find_place(self, self->x + dx, self->y + dy, &to))
        return;
    double along = to.x - self->from.x, up = to.y - self->from.y;
    g_autofree char *length = write_length(self, hypot(along, up));
    g_autofree char *x = write_length(self, along);
    g_autofree char *y = write_length(self, up);
    g_autofree char *words = g_strdup_printf(_("%s apart: %s along, %s up"), length, x, y);
    g_autoptr(Scene) overlay = scene_new("");
    SolidPoint legs[] = {self->from, {to.x, self->from.y}, to};
    if (along != 0 && up != 0)
        scene_add_line(overlay, ROLE_CUTTING, 0, NULL, legs, 3);
    scene_add_role_dimension(overlay, ROLE_TEXT, 1, NULL, self->from, to, 0, length);
    fw_sketch_view_set_overlay(self->sketch, overlay);
    g_signal_emit(self, said_signal, 0, words);
}

static void
on_drag_begun_cb(GtkGestureDrag *gesture, double x, double y, FwRuler *self)
{
    gboolean held = fw_ruler_begin(self, x, y);
    gtk_gesture_set_state(GTK_GESTURE(gesture),
                          held ? GTK_EVENT_SEQUENCE_CLAIMED : GTK_EVENT_SEQUENCE_DENIED);
}

static void
on_drag_moved_cb(GtkGestureDrag *gesture, double dx, double dy, FwRuler *self)
{
    fw_ruler_move(self, dx, dy);
}

static void
on_pointer_moved_cb(GtkEventControllerMotion *controller, double x, double y, FwRuler *self)
{
    if (self->active)
        gtk_widget_set_cursor_from_name(GTK_WIDGET(self->sketch), "crosshair");
}

static void
fw_ruler_dispose(GObject *object)
{
    g_clear_object(&FW_RULER(object)->sketch);
    G_OBJECT_CLASS(fw_ruler_parent_class)->dispose(object);
}

static void
fw_ruler_class_init(FwRulerClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_ruler_dispose;
    said_signal = g_signal_new("said", FW_TYPE_RULER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
fw_ruler_init(FwRuler *self)
{
}

FwRuler *
fw_ruler_new(FwSketchView *sketch)
{
    FwRuler *self = g_object_new(FW_TYPE_RULER, NULL);
    self->sketch = g_object_ref(sketch);
    GtkGesture *drag = gtk_gesture_drag_new();
    gtk_event_controller_set_propagation_phase(GTK_EVENT_CONTROLLER(drag), GTK_PHASE_CAPTURE);
    g_signal_connect_object(drag, "drag-begin", G_CALLBACK(on_drag_begun_cb), self, 0);
    g_signal_connect_object(drag, "drag-update", G_CALLBACK(on_drag_moved_cb), self, 0);
    gtk_widget_add_controller(GTK_WIDGET(sketch), GTK_EVENT_CONTROLLER(drag));
    GtkEventController *motion = gtk_event_controller_motion_new();
    g_signal_connect_object(motion, "motion", G_CALLBACK(on_pointer_moved_cb), self, 0);
    gtk_widget_add_controller(GTK_WIDGET(sketch), motion);
    return self;
}
