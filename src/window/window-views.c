// SPDX-License-Identifier: GPL-3.0-or-later
// What the window shows of a plan: the sketch, the timeline, and the explanation of a figure beside
// whatever was pressed.
#include <glib/gi18n.h>

#include "sketch/timeline.h"
#include "sketch/view.h"
#include "window/steps.h"
#include "window/window-private.h"

// What one drawing asks for and what came of it. Made off the main thread: cutting a large mesh
// takes longer than a frame.
typedef struct {
    Plan *plan;
    char *view;
    double along, across; // planes of the sections
    guint number;         // of the request; an older one's scenes are dropped
    Scene *sketch, *timeline;
    char *sketch_trouble, *timeline_trouble;
} Drawing;

static void
free_drawing(gpointer data)
{
    Drawing *drawing = data;
    plan_unref(drawing->plan);
    g_free(drawing->view);
    scene_unref(drawing->sketch);
    scene_unref(drawing->timeline);
    g_free(drawing->sketch_trouble);
    g_free(drawing->timeline_trouble);
    g_free(drawing);
}

static void
draw_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Drawing *drawing = data;
    g_autoptr(GError) sketch_error = NULL, timeline_error = NULL;
    drawing->sketch = sketch_view_scene(drawing->plan, drawing->view, drawing->along,
                                        drawing->across, &sketch_error);
    drawing->timeline = sketch_timeline_scene(drawing->plan, &timeline_error);
    drawing->sketch_trouble = g_strdup(sketch_error ? sketch_error->message : NULL);
    drawing->timeline_trouble = g_strdup(timeline_error ? timeline_error->message : NULL);
    g_task_return_boolean(task, TRUE);
}

// While something is being computed, what is missing is on its way.
static void
show_scene(FwWindow *self, FwSketchView *view, Scene *scene, const char *trouble)
{
    const char *words = desk_is_busy(self->desk) ? _("Working it out…") : trouble ? trouble : "";
    fw_sketch_view_set_scene(view, scene, scene ? NULL : words);
}

static void
on_drawn_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwWindow *self = FW_WINDOW(source);
    const Drawing *drawing = g_task_get_task_data(G_TASK(result));
    if (drawing->number != self->drawing || !self->desk)
        return;
    self->drawn = drawing->number;
    // What was moved by hand stays in sight until the plan knows of it.
    if (!fw_placing_is_waiting(self->placing))
        show_scene(self, self->sketch, drawing->sketch, drawing->sketch_trouble);
    show_scene(self, self->timeline, drawing->timeline, drawing->timeline_trouble);
    fw_placing_drawn(self->placing);
}

void
fw_window_update_views(FwWindow *self)
{
    const Plan *plan = desk_plan(self->desk);
    self->drawing++;
    fw_placing_set_view(self->placing, self->view, self->cut_along, self->cut_across);
    if (!plan) {
        self->drawn = self->drawing;
        show_scene(self, self->sketch, NULL, NULL);
        show_scene(self, self->timeline, NULL, NULL);
        return;
    }
    Drawing *drawing = g_new0(Drawing, 1);
    drawing->plan = plan_ref(plan);
    drawing->view = g_strdup(self->view);
    drawing->along = self->cut_along;
    drawing->across = self->cut_across;
    drawing->number = self->drawing;
    g_autoptr(GTask) task = g_task_new(self, NULL, on_drawn_cb, NULL);
    g_task_set_task_data(task, drawing, free_drawing);
    g_task_run_in_thread(task, draw_in_thread);
}

gboolean
fw_window_is_settled(FwWindow *self)
{
    return self->drawn == self->drawing && fw_pull_view_is_settled(self->pull) &&
           fw_casting_view_is_settled(self->casting) && fw_inspector_is_settled(self->inspector) &&
           (!desk_book(self->desk) || (desk_plan(self->desk) && !desk_is_busy(self->desk)));
}

static void
on_field_wanted_cb(FwExplainPopover *popover, const char *path, FwWindow *self)
{
    const Field *field = field_find(path);
    if (!field)
        return;
    fw_window_choose_step(self, field->step);
    fw_inspector_focus_field(self->inspector, path);
}

static gboolean
on_explain_closed_idle_cb(gpointer data)
{
    GtkWidget *popover = data;
    if (gtk_widget_get_parent(popover))
        gtk_widget_unparent(popover);
    g_object_unref(popover);
    return G_SOURCE_REMOVE;
}

// A popover may not be unparented while it is closing.
static void
on_explain_closed_cb(GtkWidget *popover, FwWindow *self)
{
    if (self->explain == popover)
        self->explain = NULL;
    g_idle_add(on_explain_closed_idle_cb, g_object_ref(popover));
}

void
fw_window_explain(FwWindow *self, const char *figure_id, GtkWidget *at, const GdkRectangle *where)
{
    const Plan *plan = desk_plan(self->desk);
    if (!plan || !figure_id || !plan_figure(plan, figure_id))
        return;
    if (self->explain)
        gtk_popover_popdown(GTK_POPOVER(self->explain));
    self->explain = fw_explain_popover_new();
    gtk_widget_set_parent(self->explain, GTK_WIDGET(self));
    graphene_rect_t bounds;
    if (!gtk_widget_compute_bounds(at, GTK_WIDGET(self), &bounds))
        bounds = GRAPHENE_RECT_INIT(0, 0, 1, 1);
    GdkRectangle point = {(int)bounds.origin.x, (int)bounds.origin.y, (int)bounds.size.width,
                          (int)bounds.size.height};
    if (where)
        point = (GdkRectangle){point.x + where->x, point.y + where->y, where->width, where->height};
    gtk_popover_set_pointing_to(GTK_POPOVER(self->explain), &point);
    gtk_popover_set_position(GTK_POPOVER(self->explain), where ? GTK_POS_BOTTOM : GTK_POS_LEFT);
    g_signal_connect(self->explain, "field-wanted", G_CALLBACK(on_field_wanted_cb), self);
    g_signal_connect(self->explain, "closed", G_CALLBACK(on_explain_closed_cb), self);
    fw_explain_popover_show(FW_EXPLAIN_POPOVER(self->explain), plan, figure_id);
}
