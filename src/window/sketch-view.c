// SPDX-License-Identifier: GPL-3.0-or-later
// The drawing widget. The still scene is painted once into an image of the visible area and kept as
// a texture until scene, size, zoom or theme change; hover and focus are painted over it.
#include "window/sketch-view-private.h"

#include <math.h>

#include "window/drawing.h"
#include "window/scene-part.h"
#include "window/view-commands.h"

#define MOST_PARTS 200 // beyond this many, things are reached by the mouse and the lists only

G_DEFINE_FINAL_TYPE(FwSketchView, fw_sketch_view, GTK_TYPE_WIDGET)

static guint chosen_signal, focused_signal;

void
sketch_forget_still(FwSketchView *self)
{
    g_clear_object(&self->still);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void
forget_parts(FwSketchView *self)
{
    for (guint i = 0; i < self->parts->len; i++)
        gtk_widget_unparent(g_ptr_array_index(self->parts, i));
    g_ptr_array_set_size(self->parts, 0);
}

void
fw_sketch_view_fit(FwSketchView *self)
{
    int width = gtk_widget_get_width(GTK_WIDGET(self));
    int height = gtk_widget_get_height(GTK_WIDGET(self));
    if (self->scene && width > 0 && height > 0)
        self->view = paint_fit(self->scene, width, height, SKETCH_MARGIN);
    self->fitted = TRUE;
    sketch_forget_still(self);
    gtk_widget_queue_allocate(GTK_WIDGET(self));
}

void
fw_sketch_view_zoom(FwSketchView *self, double factor)
{
    sketch_zoom_at(self, factor, self->view.width / 2, self->view.height / 2);
}

static void
paint_still(FwSketchView *self, int width, int height, int scale)
{
    if (self->live && !self->kept)
        self->kept = paint_live_new();
    if (self->live) {
        cairo_surface_t *surface = paint_live_image(self->kept, self->live, &self->view,
                                                    self->theme, width, height, scale);
        self->still = fw_drawing_texture(surface);
        cairo_surface_destroy(surface);
    } else {
        self->still = fw_drawing_paint(self->scene, &self->view, self->theme, width, height, scale);
    }
    self->still_width = width;
    self->still_height = height;
    self->still_scale = scale;
}

static const char *
highlighted(FwSketchView *self)
{
    GtkWidget *focus = gtk_widget_get_focus_child(GTK_WIDGET(self));
    if (focus && FW_IS_SCENE_PART(focus) && (!self->hover || gtk_widget_has_visible_focus(focus)))
        return fw_scene_part_get_id(FW_SCENE_PART(focus));
    return self->hover;
}

static void
fw_sketch_view_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
    FwSketchView *self = FW_SKETCH_VIEW(widget);
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
    if (width <= 0 || height <= 0)
        return;
    if (!self->scene) {
        if (self->words)
            fw_drawing_snapshot_words(widget, snapshot, self->words, 2 * SKETCH_MARGIN);
        return;
    }
    const Theme *theme = theme_get(fw_drawing_theme(widget));
    int scale = gtk_widget_get_scale_factor(widget);
    if (!self->still || theme != self->theme || width != self->still_width ||
        height != self->still_height || scale != self->still_scale) {
        self->theme = theme;
        g_clear_object(&self->still);
        paint_still(self, width, height, scale);
    }
    graphene_rect_t area = GRAPHENE_RECT_INIT(0, 0, width, height);
    gtk_snapshot_push_clip(snapshot, &area);
    gtk_snapshot_append_texture(snapshot, self->still, &area);
    const char *part = highlighted(self);
    if (part || self->overlay) {
        cairo_t *cr = gtk_snapshot_append_cairo(snapshot, &area);
        if (part)
            paint_scene(self->live ? self->live : self->scene, &self->view, self->theme, 1, part,
                        cr);
        if (self->overlay)
            paint_scene(self->overlay, &self->view, self->theme, 1, NULL, cr);
        cairo_destroy(cr);
    }
    gtk_snapshot_pop(snapshot);
}

static void
box_to_device(FwSketchView *self, SolidPoint min, SolidPoint max, GdkRectangle *out)
{
    double x1, y1, x2, y2;
    paint_to_device(&self->view, min.x, min.y, &x1, &y1);
    paint_to_device(&self->view, max.x, max.y, &x2, &y2);
    out->x = (int)floor(fmin(x1, x2));
    out->y = (int)floor(fmin(y1, y2));
    out->width = MAX(1, (int)ceil(fabs(x2 - x1)));
    out->height = MAX(1, (int)ceil(fabs(y2 - y1)));
}

static void
fw_sketch_view_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
    FwSketchView *self = FW_SKETCH_VIEW(widget);
    if (self->scene && width > 0 && height > 0) {
        if (self->fitted || self->view.width <= 0)
            self->view = paint_fit(self->scene, width, height, SKETCH_MARGIN);
        self->view.width = width;
        self->view.height = height;
    }
    for (guint i = 0; i < self->parts->len; i++) {
        GtkWidget *part = g_ptr_array_index(self->parts, i);
        SolidPoint min, max;
        fw_scene_part_get_box(FW_SCENE_PART(part), &min, &max);
        GtkAllocation where;
        box_to_device(self, min, max, &where);
        fw_scene_part_allocate(FW_SCENE_PART(part), &where);
    }
}

static void
fw_sketch_view_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
    *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 200 : 120;
    *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 600 : 300;
}

gboolean
fw_sketch_view_locate(FwSketchView *self, const char *part_id, GdkRectangle *where)
{
    const ScenePart *part = self->scene ? scene_find_part(self->scene, part_id) : NULL;
    if (!part)
        return FALSE;
    box_to_device(self, part->min, part->max, where);
    GdkRectangle area = {0, 0, (int)self->view.width, (int)self->view.height};
    return gdk_rectangle_intersect(where, &area, where);
}

gboolean
fw_sketch_view_to_scene(FwSketchView *self, double x, double y, SolidPoint *place, double *scale)
{
    if (!self->scene || !(self->view.scale_x > 0))
        return FALSE;
    paint_to_scene(&self->view, x, y, &place->x, &place->y);
    *scale = self->view.scale_x;
    return TRUE;
}

void
sketch_choose(FwSketchView *self, const char *id)
{
    const ScenePart *part = scene_find_part(self->scene, id);
    if (part)
        g_signal_emit(self, chosen_signal, 0, part->id, part->figure);
}

static void
on_part_chosen_cb(FwScenePart *part, FwSketchView *self)
{
    sketch_choose(self, fw_scene_part_get_id(part));
}

// From one thing to another by keys; the list of things does not wrap round.
static void
on_part_stepped_cb(FwScenePart *part, int by, FwSketchView *self)
{
    guint at = 0;
    g_ptr_array_find(self->parts, part, &at);
    gint64 to = CLAMP((gint64)at + by, 0, (gint64)self->parts->len - 1);
    self->current = (guint)to;
    gtk_widget_grab_focus(g_ptr_array_index(self->parts, self->current));
}

// Tab comes to the thing last looked at.
static gboolean
fw_sketch_view_focus(GtkWidget *widget, GtkDirectionType direction)
{
    FwSketchView *self = FW_SKETCH_VIEW(widget);
    if (!fw_view_commands_enters(widget, direction) || !self->scene)
        return FALSE;
    if (self->parts->len == 0)
        return gtk_widget_grab_focus(widget);
    self->current = MIN(self->current, self->parts->len - 1);
    return gtk_widget_grab_focus(g_ptr_array_index(self->parts, self->current));
}

static void
on_zoom_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    fw_sketch_view_zoom(FW_SKETCH_VIEW(widget), g_variant_get_double(parameter));
}

static void
on_fit_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    fw_sketch_view_fit(FW_SKETCH_VIEW(widget));
}

static void
on_pan_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    int dx, dy;
    g_variant_get(parameter, "(ii)", &dx, &dy);
    sketch_pan_by(FW_SKETCH_VIEW(widget), dx * 40, dy * 40);
}

static void
on_part_state_cb(GtkWidget *part, GtkStateFlags before, FwSketchView *self)
{
    GtkStateFlags now = gtk_widget_get_state_flags(part);
    gtk_widget_queue_draw(GTK_WIDGET(self));
    if (now & ~before & GTK_STATE_FLAG_FOCUSED)
        g_signal_emit(self, focused_signal, 0, fw_scene_part_get_id(FW_SCENE_PART(part)));
}

// Things that are the same as before keep their widgets, and so the focus and the reader's place.
static gboolean
keep_parts(FwSketchView *self)
{
    guint n = self->scene ? MIN(scene_part_count(self->scene), MOST_PARTS) : 0;
    if (n == 0 || n != self->parts->len)
        return FALSE;
    for (guint i = 0; i < n; i++)
        if (!g_str_equal(fw_scene_part_get_id(g_ptr_array_index(self->parts, i)),
                         scene_part(self->scene, i)->id))
            return FALSE;
    for (guint i = 0; i < n; i++)
        fw_scene_part_update(g_ptr_array_index(self->parts, i), scene_part(self->scene, i));
    return TRUE;
}

static void
make_parts(FwSketchView *self)
{
    guint n = self->scene ? MIN(scene_part_count(self->scene), MOST_PARTS) : 0;
    for (guint i = 0; i < n; i++) {
        GtkWidget *part = fw_scene_part_new(scene_part(self->scene, i));
        g_signal_connect(part, "chosen", G_CALLBACK(on_part_chosen_cb), self);
        g_signal_connect(part, "stepped", G_CALLBACK(on_part_stepped_cb), self);
        g_signal_connect(part, "state-flags-changed", G_CALLBACK(on_part_state_cb), self);
        gtk_widget_set_parent(part, GTK_WIDGET(self));
        g_ptr_array_add(self->parts, part);
    }
}

Scene *
fw_sketch_view_scene(FwSketchView *self)
{
    return self->scene;
}

const ScenePart *
fw_sketch_view_pick(FwSketchView *self, double x, double y)
{
    if (!self->scene || !(self->view.scale_x > 0)) // not laid out yet
        return NULL;
    return paint_pick(self->scene, &self->view, x, y, SKETCH_REACH);
}

const char *
fw_sketch_view_focused(FwSketchView *self)
{
    GtkWidget *focus = gtk_widget_get_focus_child(GTK_WIDGET(self));
    return focus && FW_IS_SCENE_PART(focus) ? fw_scene_part_get_id(FW_SCENE_PART(focus)) : NULL;
}

gboolean
fw_sketch_view_focus_part(FwSketchView *self, const char *id)
{
    for (guint i = 0; i < self->parts->len; i++) {
        FwScenePart *part = g_ptr_array_index(self->parts, i);
        if (!g_str_equal(fw_scene_part_get_id(part), id))
            continue;
        self->current = i;
        return gtk_widget_grab_focus(GTK_WIDGET(part));
    }
    return FALSE;
}

static void
take_scene(Scene **place, Scene *scene)
{
    if (scene)
        scene_ref(scene);
    scene_unref(*place);
    *place = scene;
}

void
fw_sketch_view_set_live(FwSketchView *self, Scene *scene)
{
    if (scene == self->live)
        return;
    take_scene(&self->live, scene);
    if (!scene)
        g_clear_pointer(&self->kept, paint_live_free);
    sketch_forget_still(self);
}

void
fw_sketch_view_set_overlay(FwSketchView *self, Scene *overlay)
{
    if (overlay == self->overlay)
        return;
    take_scene(&self->overlay, overlay);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

void
fw_sketch_view_set_scene(FwSketchView *self, Scene *scene, const char *words)
{
    SolidPoint a_min = {0, 0}, a_max = {0, 0}, b_min = {0, 0}, b_max = {0, 0};
    if (self->scene)
        scene_box(self->scene, &a_min, &a_max);
    if (scene)
        scene_box(scene, &b_min, &b_max);
    gboolean same = self->scene && scene && a_min.x == b_min.x && a_min.y == b_min.y &&
                    a_max.x == b_max.x && a_max.y == b_max.y;
    g_autofree char *focused = g_strdup(fw_sketch_view_focused(self));
    sketch_set_hover(self, NULL);
    if (scene)
        scene_ref(scene);
    scene_unref(self->scene);
    self->scene = scene;
    g_free(self->words);
    self->words = g_strdup(words);
    if (!keep_parts(self)) {
        forget_parts(self);
        make_parts(self);
        if (focused && !fw_sketch_view_focus_part(self, focused))
            gtk_widget_grab_focus(GTK_WIDGET(self));
    }
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   scene ? scene_title(scene) : (words ? words : ""), -1);
    if (!same)
        self->fitted = TRUE;
    sketch_forget_still(self);
    gtk_widget_queue_allocate(GTK_WIDGET(self));
}

static void
fw_sketch_view_dispose(GObject *object)
{
    FwSketchView *self = FW_SKETCH_VIEW(object);
    forget_parts(self);
    g_clear_object(&self->still);
    g_clear_pointer(&self->scene, scene_unref);
    fw_sketch_view_set_live(self, NULL);
    g_clear_pointer(&self->overlay, scene_unref);
    G_OBJECT_CLASS(fw_sketch_view_parent_class)->dispose(object);
}

static void
fw_sketch_view_finalize(GObject *object)
{
    FwSketchView *self = FW_SKETCH_VIEW(object);
    g_ptr_array_unref(self->parts);
    g_free(self->words);
    g_free(self->hover);
    G_OBJECT_CLASS(fw_sketch_view_parent_class)->finalize(object);
}

static void
fw_sketch_view_class_init(FwSketchViewClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_sketch_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_sketch_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->snapshot = fw_sketch_view_snapshot;
    widget->size_allocate = fw_sketch_view_size_allocate;
    widget->measure = fw_sketch_view_measure;
    widget->focus = fw_sketch_view_focus;
    chosen_signal = g_signal_new("part-chosen", FW_TYPE_SKETCH_VIEW, G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
    focused_signal = g_signal_new("part-focused", FW_TYPE_SKETCH_VIEW, G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
    static const FwViewCommands commands = {"view.pan", "view.zoom", "view.fit",
                                            on_pan_cb,  on_zoom_cb,  on_fit_cb};
    fw_view_commands_install(widget, GTK_ACCESSIBLE_ROLE_GROUP, &commands);
}

static void
fw_sketch_view_init(FwSketchView *self)
{
    self->parts = g_ptr_array_new();
    self->fitted = TRUE;
    fw_view_commands_start(GTK_WIDGET(self));
    sketch_add_controllers(self);
}

GtkWidget *
fw_sketch_view_new(void)
{
    return g_object_new(FW_TYPE_SKETCH_VIEW, NULL);
}
