// SPDX-License-Identifier: GPL-3.0-or-later
// What the mouse and the keys do in the timeline.
#include <math.h>

#include "window/timeline-view-private.h"
#include "window/view-pointer.h"

#define MOST_SCALE 1.0 // device units per second
#define WHEEL 60.0     // device units for a notch
#define NUDGE 300.0    // s
#define THRESHOLD 3.0  // device units a hand may tremble

// Zooms so that the time under x stays there.
void
timeline_zoom_at(FwTimelineView *self, double factor, double x)
{
    if (!self->chart)
        return;
    double least = timeline_least_scale(self->chart, &self->frame);
    double at = timeline_at(&self->frame, CLAMP(x, self->frame.left, self->frame.right));
    double scale = CLAMP(self->frame.scale * factor, least, fmax(least, MOST_SCALE));
    if (scale <= least * 1.0001) {
        self->look.scale = self->look.from = 0.0; // the whole, also when it changes its size
    } else {
        self->look.scale = scale;
        self->look.from = at - (CLAMP(x, self->frame.left, self->frame.right) - self->frame.left) /
                                   scale;
    }
    timeline_place_again(self);
}

void
timeline_pan_by(FwTimelineView *self, double dx, double rows)
{
    if (!self->chart)
        return;
    self->look.from = fmax(0.0, self->look.from + dx / self->frame.scale);
    double row = fmax(0.0, (double)self->look.first_row + rows);
    self->look.first_row = (guint)fmin(row, self->chart->n_rows);
    timeline_place_again(self);
}

static guint
pick_task(FwTimelineView *self, double x, double y, guint *bar)
{
    *bar = self->chart ? timeline_pick(self->chart, &self->frame, x, y) : G_MAXUINT;
    return *bar < (self->chart ? self->chart->n_bars : 0) ? self->chart->bars[*bar].task
                                                          : G_MAXUINT;
}

static void
on_pointer_moved_cb(GtkEventControllerMotion *motion, double x, double y, FwTimelineView *self)
{
    guint bar;
    if (self->focus.held == G_MAXUINT)
        timeline_set_hover(self, pick_task(self, x, y, &bar));
}

static void
on_pointer_left_cb(GtkEventControllerMotion *motion, FwTimelineView *self)
{
    timeline_set_hover(self, G_MAXUINT);
}

static void
on_drag_begun_cb(GtkGestureDrag *gesture, double x, double y, FwTimelineView *self)
{
    guint button = gtk_gesture_single_get_current_button(GTK_GESTURE_SINGLE(gesture));
    self->pan_from = self->look.from;
    self->pan_row = self->look.first_row;
    self->press_x = x;
    self->press_y = y;
    if (button == GDK_BUTTON_PRIMARY)
        fw_timeline_view_begin(self, x, y);
    else if (button != GDK_BUTTON_MIDDLE)
        gtk_gesture_set_state(GTK_GESTURE(gesture), GTK_EVENT_SEQUENCE_DENIED);
}

static void
on_drag_moved_cb(GtkGestureDrag *gesture, double dx, double dy, FwTimelineView *self)
{
    if (!self->chart || (!self->moving && fabs(dx) + fabs(dy) < THRESHOLD))
        return;
    gtk_gesture_set_state(GTK_GESTURE(gesture), GTK_EVENT_SEQUENCE_CLAIMED);
    if (self->focus.held != G_MAXUINT) {
        fw_timeline_view_move(self, self->press_x + dx, self->press_y + dy);
        return;
    }
    self->look.from = fmax(0.0, self->pan_from - dx / self->frame.scale);
    self->look.first_row = (guint)fmax(0.0, self->pan_row - round(dy / self->frame.row_step));
    timeline_place_again(self);
}

static void
on_drag_ended_cb(GtkGestureDrag *gesture, double dx, double dy, FwTimelineView *self)
{
    fw_timeline_view_end(self);
}

static void
on_drag_cancelled_cb(GtkGesture *gesture, GdkEventSequence *sequence, FwTimelineView *self)
{
    fw_timeline_view_cancel(self);
}

static void
on_released_cb(GtkGestureClick *gesture, int n, double x, double y, FwTimelineView *self)
{
    guint bar, task = pick_task(self, x, y, &bar);
    timeline_choose_bar(self, bar, TRUE);
    if (task == G_MAXUINT)
        gtk_widget_grab_focus(GTK_WIDGET(self));
    else if (n == 2)
        timeline_explain(self, task);
}

static void
on_menu_pressed_cb(GtkGestureClick *gesture, int n, double x, double y, FwTimelineView *self)
{
    guint bar, task = pick_task(self, x, y, &bar);
    if (task != G_MAXUINT)
        timeline_choose_bar(self, bar, TRUE);
    if (self->chart)
        g_signal_emit_by_name(self, "menu", x, y);
}

static gboolean
on_scrolled_cb(GtkEventControllerScroll *controller, double dx, double dy, FwTimelineView *self)
{
    GtkEventController *scroll = GTK_EVENT_CONTROLLER(controller);
    if (!self->chart)
        return GDK_EVENT_PROPAGATE;
    if (fw_view_pointer_zooms(scroll)) {
        double x = (self->frame.left + self->frame.right) / 2.0, y = 0.0;
        fw_view_pointer_place(scroll, &x, &y);
        timeline_zoom_at(self, fw_view_pointer_factor(dy), x);
    } else if (fw_view_pointer_turns(scroll) || self->look.scale <= 0.0) {
        // With all the time in sight there is nowhere to go but down.
        self->scrolled_rows += dy;
        double whole = trunc(self->scrolled_rows);
        self->scrolled_rows -= whole;
        timeline_pan_by(self, WHEEL * dx, whole);
    } else {
        timeline_pan_by(self, WHEEL * (dx + dy), 0.0);
    }
    return GDK_EVENT_STOP;
}

static gboolean
ask_for_menu(FwTimelineView *self)
{
    GdkRectangle where;
    if (!fw_timeline_view_locate(self, self->focus.chosen, &where))
        return FALSE;
    g_signal_emit_by_name(self, "menu", where.x + where.width / 2.0, where.y + where.height / 2.0);
    return TRUE;
}

// What the pointer would show, for those who have come by keys.
static void
tell_task(FwTimelineView *self, guint task)
{
    g_autofree char *label = timeline_task_label(self->chart, task);
    g_autofree char *words = timeline_task_words(self->chart, task, self->pins);
    g_autofree char *both = g_strdup_printf("%s: %s", label, words);
    timeline_say(self, both);
}

// From bar to bar by arrows, to the first and the last of the row.
static gboolean
step_by_key(FwTimelineView *self, guint key)
{
    guint bar = self->focus.bar < self->chart->n_bars ? self->focus.bar : 0;
    gboolean fresh = self->focus.bar >= self->chart->n_bars;
    switch (key) {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
        bar = fresh ? bar : timeline_step_along(self->chart, bar, -1);
        break;
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
        bar = fresh ? bar : timeline_step_along(self->chart, bar, 1);
        break;
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
        bar = fresh ? bar : timeline_step_across(self->chart, bar, -1);
        break;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
        bar = fresh ? bar : timeline_step_across(self->chart, bar, 1);
        break;
    case GDK_KEY_Home:
    case GDK_KEY_KP_Home:
        bar = timeline_step_along(self->chart, bar, -(int)self->chart->n_bars);
        break;
    case GDK_KEY_End:
    case GDK_KEY_KP_End:
        bar = timeline_step_along(self->chart, bar, (int)self->chart->n_bars);
        break;
    default:
        return FALSE;
    }
    timeline_choose_bar(self, bar, TRUE);
    tell_task(self, self->chart->bars[bar].task);
    return TRUE;
}

static gboolean
move_by_key(FwTimelineView *self, guint key, GdkModifierType state)
{
    gboolean left = key == GDK_KEY_Left || key == GDK_KEY_KP_Left;
    gboolean right = key == GDK_KEY_Right || key == GDK_KEY_KP_Right;
    double page = 0.8 * (self->frame.right - self->frame.left);
    if (state == GDK_CONTROL_MASK && (left || right))
        fw_timeline_view_nudge(self, left ? -NUDGE : NUDGE);
    else if (state == 0 &&
             (key == GDK_KEY_Delete || key == GDK_KEY_KP_Delete || key == GDK_KEY_BackSpace))
        fw_timeline_view_unpin(self);
    else if (state == 0 && (key == GDK_KEY_Page_Up || key == GDK_KEY_Page_Down))
        timeline_pan_by(self, key == GDK_KEY_Page_Up ? -page : page, 0.0);
    else if (state == GDK_SHIFT_MASK && (key == GDK_KEY_Page_Up || key == GDK_KEY_Page_Down))
        timeline_pan_by(self, 0.0, (key == GDK_KEY_Page_Up ? -1.0 : 1.0) * self->frame.n_rows);
    else if (key == GDK_KEY_Menu || (key == GDK_KEY_F10 && state == GDK_SHIFT_MASK))
        return ask_for_menu(self);
    else
        return FALSE;
    return TRUE;
}

static gboolean
on_key_pressed_cb(GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
                  FwTimelineView *self)
{
    state &= gtk_accelerator_get_default_mod_mask();
    if (!self->chart || self->chart->n_bars == 0)
        return GDK_EVENT_PROPAGATE;
    if (key == GDK_KEY_Escape && self->focus.held != G_MAXUINT) {
        fw_timeline_view_cancel(self);
        return GDK_EVENT_STOP;
    }
    if (move_by_key(self, key, state) || (state == 0 && step_by_key(self, key)))
        return GDK_EVENT_STOP;
    return GDK_EVENT_PROPAGATE;
}

static void
add_click(FwTimelineView *self, guint button, const char *signal, GCallback called)
{
    GtkGesture *click = gtk_gesture_click_new();
    gtk_gesture_single_set_button(GTK_GESTURE_SINGLE(click), button);
    g_signal_connect(click, signal, called, self);
    gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(click));
}

void
timeline_add_controllers(FwTimelineView *self)
{
    GtkWidget *widget = GTK_WIDGET(self);
    static const FwViewPointer pointer = {.moved = G_CALLBACK(on_pointer_moved_cb),
                                          .left = G_CALLBACK(on_pointer_left_cb),
                                          .scrolled = G_CALLBACK(on_scrolled_cb),
                                          .axes = GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES,
                                          .drag_begun = G_CALLBACK(on_drag_begun_cb),
                                          .drag_moved = G_CALLBACK(on_drag_moved_cb),
                                          .drag_ended = G_CALLBACK(on_drag_ended_cb),
                                          .drag_cancelled = G_CALLBACK(on_drag_cancelled_cb)};
    fw_view_pointer_watch(widget, &pointer);
    add_click(self, GDK_BUTTON_PRIMARY, "released", G_CALLBACK(on_released_cb));
    add_click(self, GDK_BUTTON_SECONDARY, "pressed", G_CALLBACK(on_menu_pressed_cb));
    // The children have keys of their own, which go through the things in one line only.
    GtkEventController *keys = gtk_event_controller_key_new();
    gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
    g_signal_connect(keys, "key-pressed", G_CALLBACK(on_key_pressed_cb), self);
    gtk_widget_add_controller(widget, keys);
}
