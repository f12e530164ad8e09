// SPDX-License-Identifier: GPL-3.0-or-later
// The plane moves, the casting is cut again, once a frame at most: a cut takes a few milliseconds,
// so it is made where it is asked for. The sheet does not change its size with the plane, and so
// the view stands still while the line is dragged.
#include "window/casting-view.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define GRIP 7.0  // device units to the line that still take hold of it
#define STEP 1e-3 // m, of a key
#define STEP_INCH 1.27e-3
#define EVEN 5e-4 // m, of a drag
#define EVEN_INCH 5.08e-4
#define INSET 1e-6 // m from the casting's ends, where a plane cuts nothing yet

struct _FwCastingView {
    GtkBox parent;
    FwSketchView *sketch;
    GtkToggleButton *ways[3]; // by axis
    GtkEditable *place;
    GtkLabel *words;
    Desk *desk;
    CastingPlane plane;
    double at[3];                 // where each axis was cut last
    const PatternResult *pattern; // shown, or NULL
    UnitSet units;
    CauseCut cut;
    CastingSheet sheet;
    double held; // of the line when a drag began
    guint tick;
};

G_DEFINE_FINAL_TYPE(FwCastingView, fw_casting_view, GTK_TYPE_BOX)

static guint chosen_signal;

FwSketchView *
fw_casting_view_sketch(FwCastingView *self)
{
    return self->sketch;
}

CastingPlane
fw_casting_view_plane(FwCastingView *self)
{
    return self->plane;
}

gboolean
fw_casting_view_is_settled(FwCastingView *self)
{
    return self->tick == 0;
}

static void
show_place(FwCastingView *self)
{
    g_autofree char *text = NULL;
    double step = self->units.inches ? 25.4e-6 : 1e-5;
    if (self->pattern)
        text = quantity_format(QUANTITY_LENGTH, round(self->plane.at / step) * step + 0.0,
                               &self->units);
    gtk_editable_set_text(self->place, text ? text : "");
    gtk_widget_remove_css_class(GTK_WIDGET(self->place), "error");
}

static void
show_words(FwCastingView *self, const char *words)
{
    gtk_label_set_text(self->words,
                       words ? words : _("Drag the line A\u2013A, or Page Up and Page Down"));
}

static void
keep_within(FwCastingView *self)
{
    double low, high;
    if (!self->pattern)
        return;
    casting_range(self->pattern, self->plane.axis, &low, &high);
    self->plane.at = CLAMP(self->plane.at, low + INSET, high - INSET);
    self->at[self->plane.axis] = self->plane.at;
}

static void
draw(FwCastingView *self)
{
    cause_cut_clear(&self->cut);
    if (!self->pattern)
        return;
    keep_within(self);
    self->cut = cause_cut(self->pattern, self->plane.axis, self->plane.at);
    self->sheet = casting_sheet(self->pattern, self->plane.axis);
    g_autoptr(Scene) scene = casting_scene(self->pattern, &self->cut, &self->units);
    fw_sketch_view_set_scene(self->sketch, scene, NULL);
    if (!gtk_widget_has_css_class(GTK_WIDGET(self->place), "error"))
        show_place(self);
}

// Only while it can be seen.
static void
update(FwCastingView *self)
{
    const Plan *plan = desk_plan(self->desk);
    const PatternResult *pattern = plan ? plan_pattern(plan) : NULL;
    if (!gtk_widget_get_mapped(GTK_WIDGET(self)))
        return;
    UnitSet units = self->units;
    if (plan)
        units = plan_units(plan);
    if (pattern && pattern == self->pattern && units.inches == self->units.inches)
        return;
    self->units = units;
    if (pattern)
        pattern_result_ref(pattern);
    pattern_result_unref(self->pattern);
    self->pattern = pattern;
    gtk_widget_set_sensitive(GTK_WIDGET(self->place), pattern != NULL);
    if (!pattern)
        fw_sketch_view_set_scene(self->sketch, NULL,
                                 desk_is_busy(self->desk) ? _("Working it out…")
                                                          : _("There is no rough casting to cut."));
    show_place(self);
    show_words(self, NULL);
    draw(self);
}

static gboolean
on_tick_cb(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
    FwCastingView *self = FW_CASTING_VIEW(widget);
    self->tick = 0;
    draw(self);
    return G_SOURCE_REMOVE;
}

void
fw_casting_view_cut(FwCastingView *self, const CastingPlane *plane)
{
    g_return_if_fail(plane->axis >= 0 && plane->axis <= 2 && isfinite(plane->at));
    self->plane = *plane;
    gtk_widget_remove_css_class(GTK_WIDGET(self->place), "error");
    keep_within(self);
    for (int axis = 0; axis < 3; axis++)
        gtk_toggle_button_set_active(self->ways[axis], axis == plane->axis);
    if (!self->tick)
        self->tick = gtk_widget_add_tick_callback(GTK_WIDGET(self), on_tick_cb, NULL, NULL);
}

Scene *
fw_casting_view_scene(FwCastingView *self, GError **error)
{
    const Plan *plan = desk_plan(self->desk);
    g_return_val_if_fail(plan != NULL, NULL);
    return sketch_casting_scene(plan, &self->plane, error);
}

static void
move_to(FwCastingView *self, double at)
{
    CastingPlane plane = {self->plane.axis, at};
    fw_casting_view_cut(self, &plane);
}

// The line in the small picture.

// How far (device units) a place in the sketch is from the line; and where on the plane's axis (m)
// the place is.
static double
find_line(FwCastingView *self, double x, double y, double *at)
{
    SolidPoint p;
    double scale;
    if (!self->pattern || !fw_sketch_view_to_scene(self->sketch, x, y, &p, &scale))
        return INFINITY;
    const CastingSheet *s = &self->sheet;
    gboolean upright = self->plane.axis == 0;
    int along = upright ? 1 : 0;
    double low, high, past = 6.0 * s->grain;
    casting_range(self->pattern, along, &low, &high);
    double on = upright ? p.y - s->map.y : p.x - s->map.x;
    double across = upright ? p.x - s->map.x : p.y - s->map.y;
    *at = across / s->map_scale;
    if (on < low * s->map_scale - past || on > high * s->map_scale + past)
        return INFINITY;
    return fabs(across - self->plane.at * s->map_scale) * scale;
}

static void
on_drag_begun_cb(GtkGestureDrag *gesture, double x, double y, FwCastingView *self)
{
    double at;
    gboolean near = find_line(self, x, y, &at) <= GRIP;
    if (near)
        self->held = self->plane.at - at;
    gtk_gesture_set_state(GTK_GESTURE(gesture),
                          near ? GTK_EVENT_SEQUENCE_CLAIMED : GTK_EVENT_SEQUENCE_DENIED);
}

static void
on_drag_moved_cb(GtkGestureDrag *gesture, double dx, double dy, FwCastingView *self)
{
    double x, y, at = NAN;
    if (!gtk_gesture_drag_get_start_point(gesture, &x, &y))
        return;
    find_line(self, x + dx, y + dy, &at);
    if (!isfinite(at))
        return;
    // A pixel is about as much, and even places read better.
    double even = self->units.inches ? EVEN_INCH : EVEN;
    move_to(self, round((at + self->held) / even) * even);
}

// What is where the pointer is.

static char *
words_at(FwCastingView *self, double x, double y)
{
    SolidPoint p;
    double scale;
    if (!self->pattern || !fw_sketch_view_to_scene(self->sketch, x, y, &p, &scale))
        return NULL;
    SolidPoint place = {(p.x - self->sheet.section.x) / 1000, (p.y - self->sheet.section.y) / 1000};
    return casting_words_at(&self->cut, place, &self->units);
}

static void
on_pointer_moved_cb(GtkEventControllerMotion *controller, double x, double y, FwCastingView *self)
{
    double at;
    g_autofree char *words = words_at(self, x, y);
    show_words(self, words);
    if (find_line(self, x, y, &at) <= GRIP)
        gtk_widget_set_cursor_from_name(GTK_WIDGET(self->sketch),
                                        self->plane.axis == 0 ? "ew-resize" : "ns-resize");
    else
        gtk_widget_set_cursor(GTK_WIDGET(self->sketch), NULL);
}

static void
on_pointer_left_cb(GtkEventControllerMotion *controller, FwCastingView *self)
{
    show_words(self, NULL);
}

static gboolean
on_tooltip_asked_cb(GtkWidget *sketch, int x, int y, gboolean keyboard, GtkTooltip *tooltip,
                    FwCastingView *self)
{
    g_autofree char *words = keyboard ? NULL : words_at(self, x, y);
    if (!words)
        return FALSE;
    // The sketch has the thing's name, which is said already, and a line about it.
    const char *more = gtk_widget_get_tooltip_text(sketch);
    more = more ? strchr(more, '\n') : NULL;
    g_autofree char *all = g_strconcat(words, more, NULL);
    gtk_tooltip_set_text(tooltip, all);
    return TRUE;
}

static void
on_way_toggled_cb(GtkToggleButton *button, FwCastingView *self)
{
    for (int axis = 0; axis < 3; axis++)
        if (button == self->ways[axis] && gtk_toggle_button_get_active(button) &&
            self->plane.axis != axis) {
            CastingPlane plane = {axis, self->at[axis]};
            fw_casting_view_cut(self, &plane);
        }
}

static void
on_place_entered_cb(GtkEntry *entry, FwCastingView *self)
{
    double at;
    g_autoptr(GError) error = NULL;
    if (quantity_parse(QUANTITY_LENGTH, gtk_editable_get_text(self->place), &self->units, &at,
                       &error)) {
        gtk_accessible_reset_state(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_STATE_INVALID);
        move_to(self, at);
        return;
    }
    gtk_widget_add_css_class(GTK_WIDGET(entry), "error");
    gtk_accessible_update_state(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_STATE_INVALID,
                                GTK_ACCESSIBLE_INVALID_TRUE, -1);
    show_words(self, error->message);
}

static void
on_part_chosen_cb(FwSketchView *sketch, const char *part, const char *figure, FwCastingView *self)
{
    g_signal_emit(self, chosen_signal, 0, part, figure);
}

static void
on_step_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    FwCastingView *self = FW_CASTING_VIEW(widget);
    double step = self->units.inches ? STEP_INCH : STEP;
    move_to(self, self->plane.at + step * g_variant_get_int32(parameter));
}

static void
fw_casting_view_map(GtkWidget *widget)
{
    FwCastingView *self = FW_CASTING_VIEW(widget);
    GTK_WIDGET_CLASS(fw_casting_view_parent_class)->map(widget);
    if (self->desk)
        update(self);
}

static void
fw_casting_view_dispose(GObject *object)
{
    FwCastingView *self = FW_CASTING_VIEW(object);
    if (self->tick)
        gtk_widget_remove_tick_callback(GTK_WIDGET(self), self->tick);
    self->tick = 0;
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_casting_view_parent_class)->dispose(object);
}

static void
fw_casting_view_finalize(GObject *object)
{
    FwCastingView *self = FW_CASTING_VIEW(object);
    cause_cut_clear(&self->cut);
    pattern_result_unref(self->pattern);
    G_OBJECT_CLASS(fw_casting_view_parent_class)->finalize(object);
}

static void
add_keys(GtkWidgetClass *widget)
{
    static const struct {
        guint key;
        int step;
    } keys[] = {{GDK_KEY_Page_Up, 1},
                {GDK_KEY_KP_Page_Up, 1},
                {GDK_KEY_Page_Down, -1},
                {GDK_KEY_KP_Page_Down, -1}};
    for (guint i = 0; i < G_N_ELEMENTS(keys); i++) {
        gtk_widget_class_add_binding_action(widget, keys[i].key, 0, "casting.step", "i",
                                            keys[i].step);
        gtk_widget_class_add_binding_action(widget, keys[i].key, GDK_SHIFT_MASK, "casting.step",
                                            "i", 10 * keys[i].step);
    }
}

static void
fw_casting_view_class_init(FwCastingViewClass *klass)
{
    g_type_ensure(FW_TYPE_SKETCH_VIEW);
    G_OBJECT_CLASS(klass)->dispose = fw_casting_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_casting_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->map = fw_casting_view_map;
    chosen_signal = g_signal_new("part-chosen", FW_TYPE_CASTING_VIEW, G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
    gtk_widget_class_install_action(widget, "casting.step", "i", on_step_cb);
    add_keys(widget);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/casting-view.ui");
#define BIND(name, member)                                                                         \
    gtk_widget_class_bind_template_child_full(widget, name, FALSE,                                 \
                                              G_STRUCT_OFFSET(FwCastingView, member))
    BIND("sketch", sketch);
    BIND("across", ways[0]);
    BIND("along", ways[1]);
    BIND("level", ways[2]);
    BIND("place", place);
    BIND("words", words);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_way_toggled_cb);
    gtk_widget_class_bind_template_callback(widget, on_place_entered_cb);
    gtk_widget_class_bind_template_callback(widget, on_part_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_tooltip_asked_cb);
}

static void
fw_casting_view_init(FwCastingView *self)
{
    self->plane.axis = casting_cut_axis("along");
    gtk_widget_init_template(GTK_WIDGET(self));
    GtkEventController *motion = gtk_event_controller_motion_new();
    g_signal_connect(motion, "motion", G_CALLBACK(on_pointer_moved_cb), self);
    g_signal_connect(motion, "leave", G_CALLBACK(on_pointer_left_cb), self);
    gtk_widget_add_controller(GTK_WIDGET(self->sketch), motion);
    // Before the sketch's own, which pans.
    GtkGesture *drag = gtk_gesture_drag_new();
    gtk_event_controller_set_propagation_phase(GTK_EVENT_CONTROLLER(drag), GTK_PHASE_CAPTURE);
    g_signal_connect(drag, "drag-begin", G_CALLBACK(on_drag_begun_cb), self);
    g_signal_connect(drag, "drag-update", G_CALLBACK(on_drag_moved_cb), self);
    gtk_widget_add_controller(GTK_WIDGET(self->sketch), GTK_EVENT_CONTROLLER(drag));
}

void
fw_casting_view_set_desk(FwCastingView *self, Desk *desk)
{
    g_return_if_fail(!self->desk);
    self->desk = g_object_ref(desk);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(update), self, G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "busy-changed", G_CALLBACK(update), self, G_CONNECT_SWAPPED);
    update(self);
}

GtkWidget *
fw_casting_view_new(void)
{
    return g_object_new(FW_TYPE_CASTING_VIEW, NULL);
}
