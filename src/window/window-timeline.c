// SPDX-License-Identifier: GPL-3.0-or-later
// The window's commands for the session timeline: moving tasks, the menu beside one, paper and
// files.
#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include "sketch/timeline-pins.h"
#include "window/window-private.h"

#define NUDGE 300.0 // s

static void
on_said_cb(FwTimelineView *timeline, const char *words, FwWindow *self)
{
    fw_window_say(self, words);
}

static void
explain(FwWindow *self, guint task, const char *figure_id)
{
    GdkRectangle where;
    if (fw_timeline_view_locate(self->timeline, task, &where))
        fw_window_explain(self, figure_id, GTK_WIDGET(self->timeline), &where);
}

static void
on_explained_cb(FwTimelineView *timeline, const char *part_id, const char *figure_id,
                FwWindow *self)
{
    guint task;
    if (sscanf(part_id, "task-%u", &task) == 1)
        explain(self, task - 1, figure_id);
}

// A popover may not be unparented while it is closing.
static gboolean
on_closed_idle_cb(gpointer data)
{
    GtkWidget *popover = data;
    if (gtk_widget_get_parent(popover))
        gtk_widget_unparent(popover);
    g_object_unref(popover);
    return G_SOURCE_REMOVE;
}

static void
on_closed_cb(GtkWidget *popover, FwWindow *self)
{
    if (self->beside == popover)
        self->beside = NULL;
    fw_timeline_view_focus_task(self->timeline, fw_timeline_view_chosen(self->timeline));
    g_idle_add(on_closed_idle_cb, g_object_ref(popover));
}

// Rows of a menu get their final height only once it is shown.
static gboolean
on_shown_idle_cb(gpointer data)
{
    GtkWidget *popover = data;
    if (gtk_widget_get_mapped(popover))
        gtk_popover_present(GTK_POPOVER(popover));
    g_object_unref(popover);
    return G_SOURCE_REMOVE;
}

static GMenuModel *
make_menu(void)
{
    GMenu *menu = g_menu_new();
    g_autoptr(GMenu) task = g_menu_new(), all = g_menu_new();
    g_menu_append(task, _("Explain"), "win.explain-task");
    g_menu_append(task, _("5 minutes earlier"), "win.nudge-task::earlier");
    g_menu_append(task, _("5 minutes later"), "win.nudge-task::later");
    g_menu_append(task, _("Let the plan place it again"), "win.free-task");
    g_menu_append(all, _("Reset all moved tasks"), "win.free-tasks");
    g_menu_append(all, _("Print the timeline…"), "win.print-timeline");
    g_menu_append_section(menu, NULL, G_MENU_MODEL(task));
    g_menu_append_section(menu, NULL, G_MENU_MODEL(all));
    return G_MENU_MODEL(menu);
}

static void
on_menu_wanted_cb(FwTimelineView *timeline, double x, double y, FwWindow *self)
{
    graphene_rect_t bounds;
    g_autoptr(GMenuModel) model = make_menu();
    GtkWidget *menu = gtk_popover_menu_new_from_model(model);
    if (self->beside)
        gtk_popover_popdown(GTK_POPOVER(self->beside));
    self->beside = menu;
    gtk_widget_set_parent(menu, GTK_WIDGET(self));
    gtk_popover_set_has_arrow(GTK_POPOVER(menu), FALSE);
    gtk_widget_set_halign(menu, GTK_ALIGN_START);
    GtkWidget *inside = gtk_popover_get_child(GTK_POPOVER(menu));
    if (GTK_IS_SCROLLED_WINDOW(inside)) // it is short enough to be seen whole
        gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(inside), GTK_POLICY_NEVER,
                                       GTK_POLICY_NEVER);
    if (!gtk_widget_compute_bounds(GTK_WIDGET(timeline), GTK_WIDGET(self), &bounds))
        bounds = GRAPHENE_RECT_INIT(0, 0, 1, 1);
    GdkRectangle where = {(int)(x + bounds.origin.x), (int)(y + bounds.origin.y), 1, 1};
    gtk_popover_set_pointing_to(GTK_POPOVER(menu), &where);
    g_signal_connect(menu, "closed", G_CALLBACK(on_closed_cb), self);
    gtk_popover_popup(GTK_POPOVER(menu));
    g_idle_add(on_shown_idle_cb, g_object_ref(menu));
}

static void
on_nudge_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    gboolean later = g_str_equal(g_variant_get_string(parameter, NULL), "later");
    fw_timeline_view_nudge(FW_WINDOW(data)->timeline, later ? NUDGE : -NUDGE);
}

static void
on_free_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    fw_timeline_view_unpin(FW_WINDOW(data)->timeline);
}

static void
on_free_all_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    fw_timeline_view_unpin_all(FW_WINDOW(data)->timeline);
}

static void
on_explain_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    const TimelineChart *chart = fw_timeline_view_chart(self->timeline);
    guint task = fw_timeline_view_chosen(self->timeline);
    if (chart && task < chart->session->n_tasks)
        explain(self, task, timeline_task_figure(chart, task));
}

static void
on_print_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autoptr(GError) error = NULL;
    if (!fw_timeline_view_print(self->timeline, GTK_WINDOW(self), NULL, &error))
        fw_notice_show(self->notice, error ? error->message : _("The timeline was not printed"),
                       NULL, NULL);
}

static void
on_export_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autofree char *path = fw_window_take_answer(self, response);
    const TimelineChart *chart = fw_timeline_view_chart(self->timeline);
    if (!path || !chart)
        return;
    g_autoptr(GError) error = NULL;
    if (timeline_export(chart, fw_timeline_view_pins(self->timeline), path, TRUE, &error))
        fw_window_say(self, _("Timeline written"));
    else
        fw_notice_show(self->notice, error->message, NULL, NULL);
}

static void
on_export_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *name = g_strdup_printf("%s-timeline.pdf", desk_job(self->desk));
    fw_window_choose_file(self, _("Export the timeline as PDF, SVG or PNG"),
                          GTK_FILE_CHOOSER_ACTION_SAVE, _("Export"), NULL, NULL, name,
                          G_CALLBACK(on_export_answered_cb));
}

void
fw_window_update_timeline(FwWindow *self)
{
    gboolean shown = fw_timeline_view_chart(self->timeline) != NULL;
    guint task = fw_timeline_view_chosen(self->timeline);
    gboolean chosen = shown && task != G_MAXUINT;
    fw_window_enable(self, "print-timeline", shown);
    fw_window_enable(self, "export-timeline", shown);
    fw_window_enable(self, "nudge-task", chosen);
    fw_window_enable(self, "explain-task", chosen);
    fw_window_enable(self, "free-task", chosen && fw_timeline_view_is_pinned(self->timeline, task));
    fw_window_enable(self, "free-tasks",
                     shown && timeline_pin_count(fw_timeline_view_pins(self->timeline)) > 0);
}

void
fw_window_add_timeline(FwWindow *self)
{
    const GActionEntry entries[] = {
        {.name = "nudge-task", .parameter_type = "s", .activate = on_nudge_cb},
        {.name = "free-task", .activate = on_free_cb},
        {.name = "free-tasks", .activate = on_free_all_cb},
        {.name = "explain-task", .activate = on_explain_cb},
        {.name = "print-timeline", .activate = on_print_cb},
        {.name = "export-timeline", .activate = on_export_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
}

void
fw_window_start_timeline(FwWindow *self)
{
    fw_timeline_view_set_desk(self->timeline, self->desk);
    g_signal_connect_object(self->timeline, "said", G_CALLBACK(on_said_cb), self, 0);
    g_signal_connect_object(self->timeline, "task-explained", G_CALLBACK(on_explained_cb), self, 0);
    g_signal_connect_object(self->timeline, "menu", G_CALLBACK(on_menu_wanted_cb), self, 0);
    g_signal_connect_object(self->timeline, "changed", G_CALLBACK(fw_window_update_timeline), self,
                            G_CONNECT_SWAPPED);
}
