// SPDX-License-Identifier: GPL-3.0-or-later
// What the window shows of a plan: the sketch, the timeline, and the explanation of a figure beside
// whatever was pressed.
#include <glib/gi18n.h>

#include "sketch/flask.h"
#include "sketch/timeline.h"
#include "window/steps.h"
#include "window/window-private.h"

static void
update_sketch(FwWindow *self, const Plan *plan)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Scene) scene = plan ? sketch_flask_scene(plan, self->view, &error) : NULL;
    const char *words = desk_is_busy(self->desk) ? _("Working it out…")
                        : error                  ? error->message
                                                 : "";
    fw_sketch_view_set_scene(self->sketch, scene, scene ? NULL : words);
}

static void
update_timeline(FwWindow *self, const Plan *plan)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Scene) scene = plan ? sketch_timeline_scene(plan, &error) : NULL;
    const char *words = desk_is_busy(self->desk) ? _("Working it out…")
                        : error                  ? error->message
                                                 : "";
    fw_sketch_view_set_scene(self->timeline, scene, scene ? NULL : words);
}

void
fw_window_update_views(FwWindow *self)
{
    const Plan *plan = desk_plan(self->desk);
    update_sketch(self, plan);
    update_timeline(self, plan);
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
