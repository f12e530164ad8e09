// SPDX-License-Identifier: GPL-3.0-or-later
// The timeline widget. What stands still is painted once into a texture of the visible area, and
// again only when it is moved, zoomed or planned anew; what is looked at lies over it.
#include "window/timeline-view-private.h"

#include <math.h>

#include "window/drawing.h"
#include "window/view-commands.h"

#define LEAST_HEIGHT 190

G_DEFINE_FINAL_TYPE(FwTimelineView, fw_timeline_view, GTK_TYPE_WIDGET)

static guint explained_signal, said_signal, changed_signal;

void
timeline_forget_over(FwTimelineView *self)
{
    g_clear_pointer(&self->over, scene_unref);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

void
timeline_forget_still(FwTimelineView *self)
{
    g_clear_object(&self->still);
    timeline_forget_over(self);
}

void
timeline_place_again(FwTimelineView *self)
{
    self->look.width = gtk_widget_get_width(GTK_WIDGET(self));
    self->look.height = gtk_widget_get_height(GTK_WIDGET(self));
    if (self->chart) {
        self->frame = timeline_frame(self->chart, &self->look);
        self->look.from = self->frame.from;
        self->look.first_row = self->frame.first_row;
    }
    timeline_forget_still(self);
    gtk_widget_queue_allocate(GTK_WIDGET(self));
}

void
timeline_say(FwTimelineView *self, const char *words)
{
    g_signal_emit(self, said_signal, 0, words);
}

void
timeline_tell_change(FwTimelineView *self)
{
    g_signal_emit(self, changed_signal, 0);
}

void
timeline_explain(FwTimelineView *self, guint task)
{
    if (!self->chart || task >= self->chart->session->n_tasks)
        return;
    g_autofree char *id = g_strdup_printf("task-%u", task + 1);
    g_signal_emit(self, explained_signal, 0, id, timeline_task_figure(self->chart, task));
}

static PaintView
plain_view(const FwTimelineView *self)
{
    return (PaintView){.scale_x = 1,
                       .scale_y = 1,
                       .width = self->look.width,
                       .height = self->look.height,
                       .y_down = TRUE};
}

static void
paint_still(FwTimelineView *self, int scale)
{
    g_autoptr(Scene) scene = timeline_draw(self->chart, &self->look);
    PaintView view = plain_view(self);
    self->still = fw_drawing_paint(scene, &view, self->theme, (int)self->look.width,
                                   (int)self->look.height, scale);
    self->still_scale = scale;
}

static void
fw_timeline_view_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
    FwTimelineView *self = FW_TIMELINE_VIEW(widget);
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
    if (width <= 0 || height <= 0)
        return;
    if (!self->chart) {
        if (self->words)
            fw_drawing_snapshot_words(widget, snapshot, self->words, 36);
        return;
    }
    const Theme *theme = theme_get(fw_drawing_theme(widget));
    int scale = gtk_widget_get_scale_factor(widget);
    if (!self->still || theme != self->theme || scale != self->still_scale) {
        self->theme = theme;
        g_clear_object(&self->still);
        paint_still(self, scale);
    }
    graphene_rect_t area = GRAPHENE_RECT_INIT(0, 0, width, height);
    gtk_snapshot_push_clip(snapshot, &area);
    gtk_snapshot_append_texture(snapshot, self->still, &area);
    if (!self->over)
        self->over = timeline_overlay(self->chart, &self->frame, &self->focus);
    if (scene_shape_count(self->over) > 0) {
        PaintView view = plain_view(self);
        cairo_t *cr = gtk_snapshot_append_cairo(snapshot, &area);
        paint_scene(self->over, &view, theme, 1, NULL, cr);
        cairo_destroy(cr);
    }
    gtk_snapshot_pop(snapshot);
}

static void
fw_timeline_view_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
    FwTimelineView *self = FW_TIMELINE_VIEW(widget);
    if (self->chart && (self->look.width != width || self->look.height != height)) {
        self->look.width = width;
        self->look.height = height;
        self->frame = timeline_frame(self->chart, &self->look);
        g_clear_object(&self->still);
        g_clear_pointer(&self->over, scene_unref);
    }
    timeline_allocate_parts(self);
}

static void
fw_timeline_view_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                         int *natural, int *minimum_baseline, int *natural_baseline)
{
    *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 200 : LEAST_HEIGHT;
    *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 600 : 300;
}

// What is shown.

const TimelineChart *
fw_timeline_view_chart(FwTimelineView *self)
{
    return self->chart;
}

const TimelineFrame *
fw_timeline_view_frame(FwTimelineView *self)
{
    return &self->frame;
}

const char *
fw_timeline_view_pins(FwTimelineView *self)
{
    return self->pins;
}

void
fw_timeline_view_zoom(FwTimelineView *self, double factor)
{
    timeline_zoom_at(self, factor, (self->frame.left + self->frame.right) / 2.0);
}

void
fw_timeline_view_fit(FwTimelineView *self)
{
    self->look.scale = self->look.from = 0.0;
    self->look.first_row = 0;
    timeline_place_again(self);
}

static void
forget_shown(FwTimelineView *self)
{
    g_clear_pointer(&self->chart, timeline_chart_free);
    g_clear_pointer(&self->plan, plan_unref);
    g_clear_pointer(&self->session, session_result_unref);
    g_clear_pointer(&self->melt, melt_result_unref);
    g_clear_pointer(&self->pins, g_free);
    self->look.pins = NULL;
}

// The new chart, or none, in the place of the old one. The chosen task is found again by its key.
static void
take_chart(FwTimelineView *self, TimelineChart *chart, char *pins)
{
    g_autofree char *key = g_steal_pointer(&self->chosen_key);
    gboolean focused = gtk_widget_get_focus_child(GTK_WIDGET(self)) != NULL;
    guint row = G_MAXUINT;
    if (self->chart && self->focus.bar < self->chart->n_bars)
        row = self->chart->bars[self->focus.bar].row;
    timeline_set_hover(self, G_MAXUINT);
    self->focus = (TimelineFocus){G_MAXUINT, G_MAXUINT, G_MAXUINT, G_MAXUINT, 0.0, G_MAXUINT};
    self->moving = FALSE;
    self->chart = chart;
    self->pins = pins;
    self->look.pins = pins;
    timeline_place_again(self);
    timeline_make_parts(self);
    guint task = chart ? timeline_find_key(chart, key) : G_MAXUINT;
    if (task == G_MAXUINT || chart->first_bar[task] == G_MAXUINT) {
        if (focused)
            gtk_widget_grab_focus(GTK_WIDGET(self));
        return;
    }
    guint bar = chart->first_bar[task];
    for (guint i = 0; i < chart->n_bars; i++) // it stays in the row in which it was chosen
        if (chart->bars[i].task == task && chart->bars[i].row == row)
            bar = i;
    timeline_choose_bar(self, bar, focused);
}

void
fw_timeline_view_set_plan(FwTimelineView *self, const Plan *plan, const char *words)
{
    g_autofree char *pins = plan ? sketch_timeline_pins(plan) : NULL;
    const SessionResult *session = plan ? plan_session(plan) : NULL;
    gboolean same = self->plan && session && session == plan_session(self->plan) &&
                    g_strcmp0(pins, self->pins) == 0 && g_strcmp0(self->job, plan_job(plan)) == 0;
    g_free(self->words);
    self->words = g_strdup(words);
    if (timeline_is_behind(self, plan))
        return; // what was moved stays where it was put
    if (same && plan_melt(plan) == plan_melt(self->plan)) {
        timeline_follow(self);
        return;
    }
    gboolean other = plan && g_strcmp0(self->job, plan_job(plan)) != 0;
    const Plan *kept = plan ? plan_ref(plan) : NULL;
    forget_shown(self);
    self->plan = kept;
    if (other) {
        g_free(self->job);
        self->job = g_strdup(plan_job(plan));
        self->look.scale = self->look.from = 0.0;
        self->look.first_row = 0;
    }
    take_chart(self, plan ? sketch_timeline_chart(plan, NULL) : NULL, g_steal_pointer(&pins));
    timeline_follow(self);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   self->chart ? "" : (words ? words : ""), -1);
    g_signal_emit(self, changed_signal, 0);
}

void
fw_timeline_view_set_session(FwTimelineView *self, const SessionResult *session,
                             const MeltResult *melt, const UnitSet *units, double now)
{
    g_return_if_fail(session != NULL && units != NULL);
    const SessionResult *kept = session_result_ref(session);
    const MeltResult *metal = melt ? melt_result_ref(melt) : NULL;
    forget_shown(self);
    self->session = kept;
    self->melt = metal;
    self->look.now = now;
    take_chart(self, timeline_chart_new(session, melt, units), NULL);
}

void
fw_timeline_view_set_now(FwTimelineView *self, double now)
{
    // A line that has moved by less than half a device unit has not moved.
    if (isfinite(now) && isfinite(self->look.now) &&
        fabs(now - self->look.now) * self->frame.scale < 0.5)
        return;
    self->look.now = now;
    timeline_forget_still(self);
}

void
fw_timeline_view_set_desk(FwTimelineView *self, Desk *desk)
{
    if (self->desk)
        g_signal_handlers_disconnect_by_data(self->desk, self);
    g_set_object(&self->desk, desk);
    if (desk)
        g_signal_connect_object(desk, "busy-changed", G_CALLBACK(timeline_give_up), self,
                                G_CONNECT_SWAPPED);
}

// Tab comes to the task last looked at.
static gboolean
fw_timeline_view_focus(GtkWidget *widget, GtkDirectionType direction)
{
    FwTimelineView *self = FW_TIMELINE_VIEW(widget);
    if (!fw_view_commands_enters(widget, direction) || !self->chart)
        return FALSE;
    if (self->chart->n_bars == 0)
        return gtk_widget_grab_focus(widget);
    timeline_choose_bar(self, self->focus.bar < self->chart->n_bars ? self->focus.bar : 0, TRUE);
    return TRUE;
}

static void
on_zoom_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    FwTimelineView *self = FW_TIMELINE_VIEW(widget);
    GdkRectangle where;
    double factor = g_variant_get_double(parameter);
    if (fw_timeline_view_locate(self, self->focus.chosen, &where)) // keys are where it is
        timeline_zoom_at(self, factor, where.x + where.width / 2.0);
    else
        fw_timeline_view_zoom(self, factor);
}

static void
on_fit_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    fw_timeline_view_fit(FW_TIMELINE_VIEW(widget));
}

static void
on_pan_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    int dx, dy;
    g_variant_get(parameter, "(ii)", &dx, &dy);
    timeline_pan_by(FW_TIMELINE_VIEW(widget), dx * 40, dy);
}

static void
fw_timeline_view_dispose(GObject *object)
{
    FwTimelineView *self = FW_TIMELINE_VIEW(object);
    timeline_forget_parts(self);
    forget_shown(self);
    g_clear_object(&self->still);
    g_clear_object(&self->desk);
    g_clear_pointer(&self->over, scene_unref);
    G_OBJECT_CLASS(fw_timeline_view_parent_class)->dispose(object);
}

static void
fw_timeline_view_finalize(GObject *object)
{
    FwTimelineView *self = FW_TIMELINE_VIEW(object);
    g_ptr_array_unref(self->parts);
    g_free(self->words);
    g_free(self->job);
    g_free(self->chosen_key);
    g_free(self->wished_key);
    G_OBJECT_CLASS(fw_timeline_view_parent_class)->finalize(object);
}

static guint
add_signal(const char *name, guint n, GType first, GType second)
{
    return g_signal_new(name, FW_TYPE_TIMELINE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                        G_TYPE_NONE, n, first, second);
}

static void
fw_timeline_view_class_init(FwTimelineViewClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_timeline_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_timeline_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->snapshot = fw_timeline_view_snapshot;
    widget->size_allocate = fw_timeline_view_size_allocate;
    widget->measure = fw_timeline_view_measure;
    widget->focus = fw_timeline_view_focus;
    explained_signal = add_signal("task-explained", 2, G_TYPE_STRING, G_TYPE_STRING);
    said_signal = add_signal("said", 1, G_TYPE_STRING, G_TYPE_NONE);
    add_signal("menu", 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
    changed_signal = add_signal("changed", 0, G_TYPE_NONE, G_TYPE_NONE);
    static const FwViewCommands commands = {"view.pan", "view.zoom", "view.fit",
                                            on_pan_cb,  on_zoom_cb,  on_fit_cb};
    fw_view_commands_install(widget, GTK_ACCESSIBLE_ROLE_GROUP, &commands);
}

static void
fw_timeline_view_init(FwTimelineView *self)
{
    self->parts = g_ptr_array_new();
    self->look.now = NAN;
    self->focus = (TimelineFocus){G_MAXUINT, G_MAXUINT, G_MAXUINT, G_MAXUINT, 0.0, G_MAXUINT};
    fw_view_commands_start(GTK_WIDGET(self));
    timeline_add_controllers(self);
}

GtkWidget *
fw_timeline_view_new(void)
{
    return g_object_new(FW_TYPE_TIMELINE_VIEW, NULL);
}
