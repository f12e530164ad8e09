// SPDX-License-Identifier: GPL-3.0-or-later
// The window's commands. Their names, labels and keys stand in the action table.
#include <glib/gi18n.h>

#include "book/store.h"
#include "sketch/view.h"
#include "window/actions.h"
#include "window/new-job.h"
#include "window/window-private.h"

// The window in which another book may be opened: this one, unless it holds changes not saved.
static FwWindow *
window_for_another(FwWindow *self)
{
    if (!desk_is_dirty(self->desk))
        return self;
    g_autoptr(Desk) desk = desk_new(desk_tables(self->desk));
    GtkWidget *window = fw_window_new(gtk_window_get_application(GTK_WINDOW(self)), desk);
    gtk_window_present(GTK_WINDOW(window));
    return FW_WINDOW(window);
}

static void
on_open_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autofree char *path = fw_window_take_answer(self, response);
    if (path)
        fw_window_open(window_for_another(self), path);
}

static void
on_open_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    fw_window_choose_file(data, _("Open a book"), GTK_FILE_CHOOSER_ACTION_OPEN, _("Open"),
                          "castbook", _("Casting books"), NULL, G_CALLBACK(on_open_answered_cb));
}

static void
save_to(FwWindow *self, const char *path, gboolean replace)
{
    g_autoptr(GError) error = NULL;
    self->saving = TRUE;
    gboolean saved = desk_save_as(self->desk, path, replace, &error);
    self->saving = FALSE;
    if (saved) {
        fw_live_page_follow(self->live, desk_path(self->desk));
        fw_window_update_day(self);
        fw_window_say(self, _("Saved"));
    } else {
        fw_notice_show(self->notice, error->message, _("Save as…"), "win.save-as");
    }
}

// The chooser itself asks before an existing file is replaced.
static void
on_save_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autofree char *path = fw_window_take_answer(self, response);
    if (path)
        save_to(self, path, TRUE);
}

static void
on_save_as_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *name = desk_path(self->desk) ? g_path_get_basename(desk_path(self->desk))
                                                  : g_strdup(_("shop.castbook"));
    fw_window_choose_file(self, _("Save the book as"), GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"),
                          "castbook", _("Casting books"), name, G_CALLBACK(on_save_answered_cb));
}

static void
on_save_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    if (desk_path(self->desk))
        save_to(self, desk_path(self->desk), TRUE);
    else
        on_save_as_cb(action, parameter, data);
}

static void
ask_for_mesh(FwWindow *self, gboolean new_book)
{
    GtkWidget *window = fw_new_job_new(self->desk, new_book, NULL);
    gtk_window_set_transient_for(GTK_WINDOW(window), GTK_WINDOW(self));
    gtk_window_present(GTK_WINDOW(window));
}

static void
on_new_book_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    ask_for_mesh(window_for_another(data), TRUE);
}

static void
on_new_job_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    ask_for_mesh(data, FALSE);
}

// The demo lies beside the program's data, or in the source tree it was built from.
static char *
find_demo(void)
{
    const char *const tails[] = {"flaskwright/demo/loom-hardware.castbook", NULL};
    for (const char *const *dirs = g_get_system_data_dirs(); *dirs; dirs++) {
        g_autofree char *path = g_build_filename(*dirs, tails[0], NULL);
        if (g_file_test(path, G_FILE_TEST_EXISTS))
            return g_steal_pointer(&path);
    }
    return g_build_filename(FW_DEMO_DIR, "loom-hardware.castbook", NULL);
}

static void
on_demo_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    g_autofree char *path = find_demo();
    fw_window_open(window_for_another(data), path);
}

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

static void
on_restore_draft_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autoptr(GError) error = NULL;
    if (!desk_restore_draft(self->desk, &error))
        fw_notice_show(self->notice, error->message, NULL, NULL);
    else
        fw_window_offer_day(self);
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
        {.name = "new-book", .activate = on_new_book_cb},
        {.name = "open", .activate = on_open_cb},
        {.name = "save", .activate = on_save_cb},
        {.name = "save-as", .activate = on_save_as_cb},
        {.name = "demo", .activate = on_demo_cb},
        {.name = "new-job", .activate = on_new_job_cb},
        {.name = "close", .activate = on_close_cb},
        {.name = "undo", .activate = on_undo_cb},
        {.name = "redo", .activate = on_redo_cb},
        {.name = "stop", .activate = on_stop_cb},
        {.name = "restore-draft", .activate = on_restore_draft_cb},
        {.name = "zoom-in", .activate = on_zoom_in_cb},
        {.name = "zoom-out", .activate = on_zoom_out_cb},
        {.name = "fit", .activate = on_fit_cb},
        {.name = "view",
         .parameter_type = "s",
         .state = "'plan'",
         .change_state = on_view_changed_cb},
        {.name = "inspect", .parameter_type = "s", .activate = on_inspect_cb},
        {.name = "shortcuts", .activate = on_shortcuts_cb},
        {.name = "about", .activate = on_about_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
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
    fw_window_enable(self, "stop", desk_is_busy(self->desk));
    fw_window_enable(self, "zoom-in", plan);
    fw_window_enable(self, "zoom-out", plan);
    fw_window_enable(self, "fit", plan);
    fw_window_update_placing(self);
    fw_window_update_timeline(self);
}
