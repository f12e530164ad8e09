// SPDX-License-Identifier: GPL-3.0-or-later
// The window's commands. Their names, labels and keys stand in the action table.
#include <glib/gi18n.h>

#include "sketch/view.h"
#include "window/actions.h"
#include "window/window-private.h"

static void
say_step(FwWindow *self, const char *format, const char *label)
{
    g_autofree char *words = g_strdup_printf(format, label ? label : "");
    fw_window_say(self, words);
}

static void
on_undo_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    if (fw_window_shows_day(self)) {
        fw_live_page_undo(self->live);
        return;
    }
    fw_placing_settle(self->placing);
    g_autofree char *label = g_strdup(desk_undo_label(self->desk));
    desk_undo(self->desk);
    say_step(self, _("Undone: %s"), label);
}

static void
on_redo_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *label = g_strdup(desk_redo_label(self->desk));
    desk_redo(self->desk);
    say_step(self, _("Redone: %s"), label);
}

static void
on_stop_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    desk_stop(FW_WINDOW(data)->desk);
}

gboolean
fw_window_shows_pull(FwWindow *self)
{
    return g_strcmp0(gtk_stack_get_visible_child_name(self->views), "pull") == 0;
}

gboolean
fw_window_shows_casting(FwWindow *self)
{
    return g_strcmp0(gtk_stack_get_visible_child_name(self->views), "casting") == 0;
}

gboolean
fw_window_shows_calendar(FwWindow *self)
{
    return g_strcmp0(gtk_stack_get_visible_child_name(self->views), "calendar") == 0;
}

static void
zoom(FwWindow *self, double factor)
{
    if (fw_window_shows_pull(self))
        fw_shade_view_zoom(fw_pull_view_shade(self->pull), factor);
    else if (fw_window_shows_casting(self))
        fw_sketch_view_zoom(fw_casting_view_sketch(self->casting), factor);
    else if (fw_window_shows_calendar(self))
        fw_sketch_view_zoom(fw_calendar_view_sketch(self->calendar), factor);
    else
        fw_sketch_view_zoom(self->sketch, factor);
}

static void
on_zoom_in_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    zoom(data, 1.25);
}

static void
on_zoom_out_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    zoom(data, 0.8);
}

static void
on_fit_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    if (fw_window_shows_pull(self))
        fw_shade_view_fit(fw_pull_view_shade(self->pull));
    fw_sketch_view_fit(fw_casting_view_sketch(self->casting));
    fw_sketch_view_fit(fw_calendar_view_sketch(self->calendar));
    fw_sketch_view_fit(self->sketch);
    fw_timeline_view_fit(self->timeline);
}

// The button of the views that are not buttons themselves says which of them is shown.
static void
name_more_views(FwWindow *self, const char *view)
{
    static const struct {
        const char *view, *label;
    } names[] = {{"cope", N_("Cope")},         {"drag", N_("Drag")},
                 {"across", N_("Across")},     {"end", N_("End")},
                 {"stack", N_("Taken apart")}, {"modulus", N_("Modulus")},
                 {"filling", N_("Filling")},   {"gains", N_("What helps")}};
    const char *label = _("More views");
    for (guint i = 0; i < G_N_ELEMENTS(names); i++)
        if (g_str_equal(view, names[i].view))
            label = _(names[i].label);
    gtk_menu_button_set_label(self->more_views, label);
}

static void
on_view_changed_cb(GSimpleAction *action, GVariant *value, gpointer data)
{
    FwWindow *self = data;
    const char *view = g_variant_get_string(value, NULL);
    gboolean own = g_str_equal(view, "pull") || g_str_equal(view, "casting") ||
                   g_str_equal(view, "calendar");
    if (!own && !sketch_is_view(view))
        return;
    g_simple_action_set_state(action, value);
    gtk_stack_set_visible_child_name(self->views, own ? view : "flask");
    name_more_views(self, view);
    if (!own) {
        g_free(self->view);
        self->view = g_strdup(view);
        fw_window_update_views(self);
    }
    fw_window_update_commands(self);
}

static void
on_inspect_cb(GSimpleAction *action, GVariant *page, gpointer data)
{
    if (g_str_equal(g_variant_get_string(page, NULL), "pieces"))
        fw_window_choose_step(data, "pattern"); // no other has the page
    fw_inspector_show_page(FW_WINDOW(data)->inspector, g_variant_get_string(page, NULL));
    fw_inspector_focus_page(FW_WINDOW(data)->inspector);
}

static void
on_find_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    fw_inspector_find(FW_WINDOW(data)->inspector);
}

static void
on_shortcuts_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    GtkWidget *window = actions_shortcuts_window();
    gtk_window_set_transient_for(GTK_WINDOW(window), GTK_WINDOW(data));
    gtk_window_present(GTK_WINDOW(window));
}

static void
on_about_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    gtk_show_about_dialog(GTK_WINDOW(data), "program-name", "Flaskwright", "version", FW_VERSION,
                          "logo-icon-name", FW_APP_ID, "license-type", GTK_LICENSE_GPL_3_0,
                          "comments",
                          _("Plans small sand castings from the model of the finished part. "
                            "Arithmetic, not permission: local codes and licensed practice come "
                            "first."),
                          NULL);
}

static void
on_close_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    gtk_window_close(GTK_WINDOW(data));
}

void
fw_window_add_commands(FwWindow *self)
{
    const GActionEntry entries[] = {
        {.name = "close", .activate = on_close_cb},
        {.name = "undo", .activate = on_undo_cb},
        {.name = "redo", .activate = on_redo_cb},
        {.name = "stop", .activate = on_stop_cb},
        {.name = "zoom-in", .activate = on_zoom_in_cb},
        {.name = "zoom-out", .activate = on_zoom_out_cb},
        {.name = "fit", .activate = on_fit_cb},
        {.name = "view",
         .parameter_type = "s",
         .state = "'plan'",
         .change_state = on_view_changed_cb},
        {.name = "inspect", .parameter_type = "s", .activate = on_inspect_cb},
        {.name = "find", .activate = on_find_cb},
        {.name = "shortcuts", .activate = on_shortcuts_cb},
        {.name = "about", .activate = on_about_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
    fw_window_add_files(self);
    fw_window_add_exports(self);
    fw_window_add_pattern_commands(self);
    fw_window_add_calendar_commands(self);
    fw_window_add_placing(self);
    fw_window_add_timeline(self);
    fw_window_add_day(self);
}

void
fw_window_enable(FwWindow *self, const char *name, gboolean enabled)
{
    GAction *action = g_action_map_lookup_action(G_ACTION_MAP(self), name);
    g_simple_action_set_enabled(G_SIMPLE_ACTION(action), enabled);
}

void
fw_window_update_commands(FwWindow *self)
{
    gboolean book = desk_book(self->desk) != NULL;
    gboolean plan = desk_plan(self->desk) != NULL;
    fw_window_enable(self, "save", book && (desk_is_dirty(self->desk) || !desk_path(self->desk)));
    fw_window_enable(self, "save-as", book);
    fw_window_enable(self, "new-job", book);
    fw_window_update_exports(self);
    fw_window_update_pattern_commands(self);
    fw_window_update_calendar_commands(self);
    gboolean day = fw_window_shows_day(self); // where undo takes ticks back
    fw_window_enable(self, "undo",
                     day ? fw_live_page_can_undo(self->live) : desk_can_undo(self->desk));
    fw_window_enable(self, "redo", !day && desk_can_redo(self->desk));
    fw_window_update_day_command(self);
    fw_window_enable(self, "results", book);
    fw_window_enable(self, "find",
                     g_strcmp0(gtk_stack_get_visible_child_name(self->pages), "work") == 0);
    fw_window_enable(self, "stop", desk_is_busy(self->desk));
    fw_window_enable(self, "zoom-in", plan);
    fw_window_enable(self, "zoom-out", plan);
    fw_window_enable(self, "fit", plan);
    fw_window_update_placing(self);
    fw_window_update_timeline(self);
}
