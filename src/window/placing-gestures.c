// SPDX-License-Identifier: GPL-3.0-or-later
// The mouse and the keys in the flask's plan views. Keys without Ctrl belong to the sketch alone,
// so that they can still be typed elsewhere; what they do is an action of the window.
#include "window/placing.h"

#define STEP 1e-3 // m, of an arrow
#define STEP_INCH 1.27e-3

static const struct {
    guint key;
    GdkModifierType modifiers;
    const char *action;
} keys[] = {
    {GDK_KEY_r, 0, "win.turn-cavity"},
    {GDK_KEY_r, GDK_SHIFT_MASK, "win.turn-cavity-back"},
    {GDK_KEY_m, 0, "win.mirror-cavity"},
    {GDK_KEY_l, 0, "win.lock-cavity"},
    {GDK_KEY_d, GDK_CONTROL_MASK, "win.copy-cavity"},
    {GDK_KEY_Delete, 0, "win.delete-cavity"},
    {GDK_KEY_KP_Delete, 0, "win.delete-cavity"},
    {GDK_KEY_h, GDK_CONTROL_MASK | GDK_ALT_MASK, "win.align-row"},
    {GDK_KEY_v, GDK_CONTROL_MASK | GDK_ALT_MASK, "win.align-column"},
    {GDK_KEY_Return, 0, "win.cavity-values"},
    {GDK_KEY_KP_Enter, 0, "win.cavity-values"},
    {GDK_KEY_u, 0, "win.measure"},
    {GDK_KEY_Page_Up, 0, "win.move-cut::on"},
    {GDK_KEY_Page_Down, 0, "win.move-cut::back"},
    {GDK_KEY_Page_Up, GDK_SHIFT_MASK, "win.move-cut::far-on"},
    {GDK_KEY_Page_Down, GDK_SHIFT_MASK, "win.move-cut::far-back"},
};

static gboolean
has_movable(FwPlacing *self, GtkWidget *sketch)
{
    const char *focused = fw_sketch_view_focused(FW_SKETCH_VIEW(sketch));
    return fw_placing_is_shown(self) && focused && g_strcmp0(focused, fw_placing_part(self)) == 0;
}

static gboolean
nudge_by_key(FwPlacing *self, guint key, GdkModifierType state)
{
    static const struct {
        guint key, pad;
        int right, up;
    } arrows[] = {{GDK_KEY_Left, GDK_KEY_KP_Left, -1, 0},
                  {GDK_KEY_Right, GDK_KEY_KP_Right, 1, 0},
                  {GDK_KEY_Up, GDK_KEY_KP_Up, 0, 1},
                  {GDK_KEY_Down, GDK_KEY_KP_Down, 0, -1}};
    if (state != 0 && state != GDK_SHIFT_MASK && state != GDK_ALT_MASK)
        return FALSE;
    double step = fw_placing_units(self).inches ? STEP_INCH : STEP;
    step *= state == GDK_SHIFT_MASK ? 10 : state == GDK_ALT_MASK ? 0.1 : 1;
    for (guint i = 0; i < G_N_ELEMENTS(arrows); i++)
        if (key == arrows[i].key || key == arrows[i].pad) {
            fw_placing_nudge(self, step * arrows[i].right, step * arrows[i].up);
            return TRUE;
        }
    return FALSE;
}

// Arrows move what is chosen, so other keys go from thing to thing.
static gboolean
step_by_key(FwPlacing *self, GtkWidget *sketch, guint key, GdkModifierType state)
{
    GtkWidget *focus = gtk_widget_get_focus_child(sketch);
    if (state != 0 || !focus || !fw_placing_is_shown(self) ||
        (key != GDK_KEY_Page_Up && key != GDK_KEY_Page_Down))
        return FALSE;
    return gtk_widget_activate_action(focus, "part.step", "i", key == GDK_KEY_Page_Up ? -1 : 1);
}

static gboolean
on_key_pressed_cb(GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
                  FwPlacing *self)
{
    GtkWidget *sketch = gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(controller));
    state &= gtk_accelerator_get_default_mod_mask();
    gboolean movable = has_movable(self, sketch);
    if (key == GDK_KEY_Escape && fw_placing_is_moving(self)) {
        fw_placing_cancel(self);
        return GDK_EVENT_STOP;
    }
    if ((movable && nudge_by_key(self, key, state)) || step_by_key(self, sketch, key, state))
        return GDK_EVENT_STOP;
    if (key == GDK_KEY_Menu || (key == GDK_KEY_F10 && state == GDK_SHIFT_MASK)) {
        GdkRectangle where;
        if (!movable ||
            !fw_sketch_view_locate(FW_SKETCH_VIEW(sketch), fw_placing_part(self), &where))
            return GDK_EVENT_PROPAGATE;
        g_signal_emit_by_name(self, "menu", where.x + where.width / 2.0,
                              where.y + where.height / 2.0);
        return GDK_EVENT_STOP;
    }
    gboolean enter = key == GDK_KEY_Return || key == GDK_KEY_KP_Enter;
    for (guint i = 0; i < G_N_ELEMENTS(keys); i++) {
        if (gdk_keyval_to_lower(key) != gdk_keyval_to_lower(keys[i].key) ||
            state != keys[i].modifiers || (enter && !movable))
            continue;
        gboolean done = FALSE;
        g_signal_emit_by_name(self, "command", keys[i].action, &done);
        return done;
    }
    return GDK_EVENT_PROPAGATE;
}

static void
on_drag_begun_cb(GtkGestureDrag *gesture, double x, double y, FwPlacing *self)
{
    gboolean held = fw_placing_begin(self, x, y);
    gtk_gesture_set_state(GTK_GESTURE(gesture),
                          held ? GTK_EVENT_SEQUENCE_CLAIMED : GTK_EVENT_SEQUENCE_DENIED);
}

static void
on_drag_moved_cb(GtkGestureDrag *gesture, double dx, double dy, FwPlacing *self)
{
    GdkModifierType state = gtk_event_controller_get_current_event_state(
        GTK_EVENT_CONTROLLER(gesture));
    fw_placing_move(self, dx, dy, (state & GDK_ALT_MASK) != 0);
}

static void
on_drag_ended_cb(GtkGestureDrag *gesture, double dx, double dy, FwPlacing *self)
{
    fw_placing_end(self);
}

static void
on_drag_cancelled_cb(GtkGesture *gesture, GdkEventSequence *sequence, FwPlacing *self)
{
    fw_placing_cancel(self);
}

static void
on_released_cb(GtkGestureClick *gesture, int n, double x, double y, FwPlacing *self)
{
    gboolean done;
    if (n == 2 && fw_placing_part(self) && !fw_placing_is_moving(self))
        g_signal_emit_by_name(self, "command", "win.cavity-values", &done);
}

static void
on_menu_pressed_cb(GtkGestureClick *gesture, int n, double x, double y, FwPlacing *self)
{
    if (!fw_placing_begin(self, x, y))
        return;
    fw_placing_cancel(self);
    gtk_gesture_set_state(GTK_GESTURE(gesture), GTK_EVENT_SEQUENCE_CLAIMED);
    if (fw_placing_part(self))
        g_signal_emit_by_name(self, "menu", x, y);
}

static void
on_pointer_moved_cb(GtkEventControllerMotion *controller, double x, double y, FwPlacing *self)
{
    GtkWidget *sketch = gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(controller));
    const char *cursor = fw_placing_cursor(self, x, y);
    if (cursor)
        gtk_widget_set_cursor_from_name(sketch, cursor);
}

// Over sand, how much of it.
static gboolean
on_tooltip_asked_cb(FwSketchView *sketch, int x, int y, gboolean keyboard, GtkTooltip *tooltip,
                    FwPlacing *self)
{
    const ScenePart *part = keyboard ? NULL : fw_sketch_view_pick(sketch, x, y);
    const MouldLayout *layout = fw_placing_layout(self);
    SolidPoint place;
    double scale;
    if (!part || !layout || !g_str_equal(part->id, "flask") ||
        !fw_sketch_view_to_scene(sketch, x, y, &place, &scale))
        return FALSE;
    UnitSet units = fw_placing_units(self);
    g_autofree char *words = flask_sand_words(layout, &units, place.x / 1000, place.y / 1000);
    if (!words)
        return FALSE;
    g_autofree char *all = g_strdup_printf("%s\n%s", words, part->description);
    gtk_tooltip_set_text(tooltip, all);
    return TRUE;
}

static GtkGesture *
add_click(FwPlacing *self, GtkWidget *sketch, guint button, const char *signal, GCallback callback)
{
    GtkGesture *click = gtk_gesture_click_new();
    gtk_gesture_single_set_button(GTK_GESTURE_SINGLE(click), button);
    gtk_event_controller_set_propagation_phase(GTK_EVENT_CONTROLLER(click), GTK_PHASE_CAPTURE);
    g_signal_connect_object(click, signal, callback, self, 0);
    gtk_widget_add_controller(sketch, GTK_EVENT_CONTROLLER(click));
    return click;
}

void
fw_placing_add_controllers(FwPlacing *self, GtkWidget *sketch)
{
    GtkEventController *motion = gtk_event_controller_motion_new();
    g_signal_connect_object(motion, "motion", G_CALLBACK(on_pointer_moved_cb), self, 0);
    gtk_widget_add_controller(sketch, motion);
    g_signal_connect_object(sketch, "query-tooltip", G_CALLBACK(on_tooltip_asked_cb), self, 0);
    // Before the sketch's own, which pans and explains.
    GtkGesture *drag = gtk_gesture_drag_new();
    gtk_event_controller_set_propagation_phase(GTK_EVENT_CONTROLLER(drag), GTK_PHASE_CAPTURE);
    g_signal_connect_object(drag, "drag-begin", G_CALLBACK(on_drag_begun_cb), self, 0);
    g_signal_connect_object(drag, "drag-update", G_CALLBACK(on_drag_moved_cb), self, 0);
    g_signal_connect_object(drag, "drag-end", G_CALLBACK(on_drag_ended_cb), self, 0);
    g_signal_connect_object(drag, "cancel", G_CALLBACK(on_drag_cancelled_cb), self, 0);
    gtk_widget_add_controller(sketch, GTK_EVENT_CONTROLLER(drag));
    GtkGesture *click = add_click(self, sketch, GDK_BUTTON_PRIMARY, "released",
                                  G_CALLBACK(on_released_cb));
    gtk_gesture_group(click, drag);
    add_click(self, sketch, GDK_BUTTON_SECONDARY, "pressed", G_CALLBACK(on_menu_pressed_cb));
    GtkEventController *key = gtk_event_controller_key_new();
    gtk_event_controller_set_propagation_phase(key, GTK_PHASE_CAPTURE);
    g_signal_connect_object(key, "key-pressed", G_CALLBACK(on_key_pressed_cb), self, 0);
    gtk_widget_add_controller(sketch, key);
}
