// SPDX-License-Identifier: GPL-3.0-or-later
// Owns the tables, and opens a window with a desk of its own for every book.
#include "window/app.h"

#include <glib/gi18n.h>

#include "metal/tables.h"
#include "window/actions.h"
#include "window/window.h"

struct _FwApp {
    GtkApplication parent;
    Tables *tables;
    gboolean open_and_close; // leave once the plan is made and drawn
    char *picture;           // write one then
    char *step, *view;
    int frames_left;
    int code;
};

G_DEFINE_FINAL_TYPE(FwApp, fw_app, GTK_TYPE_APPLICATION)

int
fw_app_exit_code(FwApp *app)
{
    return app->code;
}

static gboolean
on_leave_cb(gpointer data)
{
    GtkWindow *window = data;
    gtk_window_close(window);
    return G_SOURCE_REMOVE;
}

// Waits for the plan, then for a few frames, then takes the picture and leaves.
static gboolean
on_frame_cb(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
    FwApp *self = data;
    if (!fw_window_is_settled(FW_WINDOW(widget)))
        return G_SOURCE_CONTINUE;
    if (self->frames_left-- > 0) {
        gtk_widget_queue_draw(widget);
        return G_SOURCE_CONTINUE;
    }
    // Nothing is queued in this frame, so the picture is of the last one, which is whole.
    g_autoptr(GError) error = NULL;
    if (self->picture && !fw_window_save_picture(FW_WINDOW(widget), self->picture, &error)) {
        g_printerr("flaskwright: %s\n", error->message);
        self->code = 1;
    }
    g_idle_add(on_leave_cb, widget);
    return G_SOURCE_REMOVE;
}

static FwWindow *
make_window(FwApp *self)
{
    g_autoptr(Desk) desk = desk_new(self->tables);
    GtkWidget *window = fw_window_new(GTK_APPLICATION(self), desk);
    if (self->step)
        fw_window_choose_step(FW_WINDOW(window), self->step);
    if (self->view)
        g_action_group_change_action_state(G_ACTION_GROUP(window), "view",
                                           g_variant_new_string(self->view));
    if (self->open_and_close || self->picture) {
        self->frames_left = 60; // a second, in which drawings made off this thread arrive
        gtk_widget_add_tick_callback(window, on_frame_cb, self, NULL);
    }
    return FW_WINDOW(window);
}

static void
fw_app_activate(GApplication *application)
{
    gtk_window_present(GTK_WINDOW(make_window(FW_APP(application))));
}

static void
fw_app_open(GApplication *application, GFile **files, int n, const char *hint)
{
    for (int i = 0; i < n; i++) {
        FwApp *self = FW_APP(application);
        FwWindow *window = make_window(self);
        g_autofree char *path = g_file_get_path(files[i]);
        gtk_window_present(GTK_WINDOW(window));
        if (!path || !fw_window_open(window, path))
            self->code = self->open_and_close ? 1 : 0;
    }
}

static void
load_style(void)
{
    g_autoptr(GtkCssProvider) provider = gtk_css_provider_new();
    gtk_css_provider_load_from_resource(provider, "/org/flaskwright/Flaskwright/ui/style.css");
    gtk_style_context_add_provider_for_display(gdk_display_get_default(),
                                               GTK_STYLE_PROVIDER(provider),
                                               GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
    gtk_icon_theme_add_resource_path(gtk_icon_theme_get_for_display(gdk_display_get_default()),
                                     "/org/flaskwright/Flaskwright/icons");
}

static void
fw_app_startup(GApplication *application)
{
    G_APPLICATION_CLASS(fw_app_parent_class)->startup(application);
    load_style();
    gtk_window_set_default_icon_name(FW_APP_ID);
    actions_set_accels(GTK_APPLICATION(application));
}

static int
fw_app_handle_local_options(GApplication *application, GVariantDict *options)
{
    FwApp *self = FW_APP(application);
    if (g_variant_dict_contains(options, "version")) {
        g_print("flaskwright %s\n", FW_VERSION);
        return 0;
    }
    self->open_and_close = g_variant_dict_contains(options, "open-and-close");
    g_variant_dict_lookup(options, "picture", "^ay", &self->picture);
    g_variant_dict_lookup(options, "step", "s", &self->step);
    g_variant_dict_lookup(options, "view", "s", &self->view);
    g_autoptr(GError) error = NULL;
    self->tables = tables_load(&error);
    if (!self->tables) {
        g_printerr("flaskwright: %s\n", error->message);
        return 1;
    }
    return -1;
}

static void
fw_app_finalize(GObject *object)
{
    FwApp *self = FW_APP(object);
    tables_free(self->tables);
    g_free(self->picture);
    g_free(self->step);
    g_free(self->view);
    G_OBJECT_CLASS(fw_app_parent_class)->finalize(object);
}

static void
fw_app_class_init(FwAppClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_app_finalize;
    GApplicationClass *app = G_APPLICATION_CLASS(klass);
    app->startup = fw_app_startup;
    app->activate = fw_app_activate;
    app->open = fw_app_open;
    app->handle_local_options = fw_app_handle_local_options;
}

static void
fw_app_init(FwApp *self)
{
    const GOptionEntry entries[] = {
        {"version", 0, 0, G_OPTION_ARG_NONE, NULL, N_("Print the version and leave"), NULL},
        {"step", 0, 0, G_OPTION_ARG_STRING, NULL, N_("Show this step: part, mould, melt, …"),
         "STEP"},
        {"view", 0, 0, G_OPTION_ARG_STRING, NULL,
         N_("Show this view: plan, cope, drag, section, across, end, stack, modulus, filling, "
            "gains, casting, pull, calendar"),
         "VIEW"},
        {"picture", 0, 0, G_OPTION_ARG_FILENAME, NULL,
         N_("Write a picture of the window once the plan is made, and leave"), "FILE.png"},
        {"open-and-close", 0, 0, G_OPTION_ARG_NONE, NULL,
         N_("Leave once the plan is made and drawn"), NULL},
        {NULL}};
    g_application_add_main_option_entries(G_APPLICATION(self), entries);
}

FwApp *
fw_app_new(void)
{
    return g_object_new(FW_TYPE_APP, "application-id", FW_APP_ID, "flags",
                        G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE, NULL);
}
