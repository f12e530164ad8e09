// SPDX-License-Identifier: GPL-3.0-or-later
// Choosing files, and writing what is shown: the sketch, and the outlines of the boards.
#include <glib/gi18n.h>

#include "base/error.h"
#include "sketch/export.h"
#include "sketch/template-export.h"
#include "sketch/true-size.h"
#include "sketch/view.h"
#include "window/window-private.h"

void
fw_window_choose_file(FwWindow *self, const char *title, GtkFileChooserAction action,
                      const char *accept, const char *suffix, const char *kind, const char *name,
                      GCallback chosen)
{
    g_clear_object(&self->chooser);
    self->chooser = gtk_file_chooser_native_new(title, GTK_WINDOW(self), action, accept,
                                                _("Cancel"));
    GtkFileChooser *chooser = GTK_FILE_CHOOSER(self->chooser);
    if (suffix) {
        g_autoptr(GtkFileFilter) filter = gtk_file_filter_new();
        gtk_file_filter_set_name(filter, kind);
        gtk_file_filter_add_suffix(filter, suffix);
        gtk_file_chooser_add_filter(chooser, filter);
    }
    if (name)
        gtk_file_chooser_set_current_name(chooser, name);
    if (desk_path(self->desk)) {
        g_autofree char *folder = g_path_get_dirname(desk_path(self->desk));
        g_autoptr(GFile) beside = g_file_new_for_path(folder);
        gtk_file_chooser_set_current_folder(chooser, beside, NULL);
    }
    g_signal_connect(self->chooser, "response", chosen, self);
    gtk_native_dialog_show(GTK_NATIVE_DIALOG(self->chooser));
}

char *
fw_window_take_answer(FwWindow *self, int response)
{
    char *path = NULL;
    if (response == GTK_RESPONSE_ACCEPT) {
        g_autoptr(GFile) file = gtk_file_chooser_get_file(GTK_FILE_CHOOSER(self->chooser));
        path = file ? g_file_get_path(file) : NULL;
        if (!path)
            fw_notice_show(self->notice,
                           _("That place has no path; choose a folder of this "
                             "computer."),
                           NULL, NULL);
    }
    g_clear_object(&self->chooser);
    return path;
}

static gboolean
write_sketch(FwWindow *self, const char *path, GError **error)
{
    const Plan *plan = desk_plan(self->desk);
    gboolean casting = fw_window_shows_casting(self), lines = g_str_has_suffix(path, ".dxf");
    gboolean calendar = fw_window_shows_calendar(self);
    if (lines && (calendar || (!casting && !sketch_view_has_size(self->view))))
        return base_error_set(error, BASE_ERROR_VALUE, path, NULL, _("a chart has no true size"),
                              _("write it as .svg, .png or .pdf"));
    g_autoptr(Scene) scene = calendar  ? fw_calendar_view_scene(self->calendar, error)
                             : casting ? fw_casting_view_scene(self->casting, error)
                                       : sketch_view_scene(plan, self->view, self->cut_along,
                                                           self->cut_across, error);
    if (!scene)
        return FALSE;
    return lines ? true_size_export(scene, NULL, path, TRUE, error)
                 : export_scene(scene, THEME_PAPER, 1123, 794, path, TRUE, error);
}

static void
on_export_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autofree char *path = fw_window_take_answer(self, response);
    if (!path || !desk_plan(self->desk))
        return;
    g_autoptr(GError) error = NULL;
    if (write_sketch(self, path, &error))
        fw_window_say(self, _("Sketch written"));
    else
        fw_notice_show(self->notice, error->message, NULL, NULL);
}

static void
on_export_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *name = g_strdup_printf("%s-%s.pdf", desk_job(self->desk),
                                            fw_window_shows_casting(self)    ? "casting"
                                            : fw_window_shows_calendar(self) ? "calendar"
                                                                             : self->view);
    fw_window_choose_file(self, _("Export the sketch as PDF, SVG, PNG or, in true size, DXF"),
                          GTK_FILE_CHOOSER_ACTION_SAVE, _("Export"), NULL, NULL, name,
                          G_CALLBACK(on_export_answered_cb));
}

static void
on_boards_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autofree char *path = fw_window_take_answer(self, response);
    const Plan *plan = desk_plan(self->desk);
    if (!path || !plan)
        return;
    g_autoptr(GError) error = NULL;
    if (template_export(plan, self->boards, path, TRUE, &error))
        fw_window_say(self, self->boards == TEMPLATE_BOTH_BOARDS
                                ? _("Outlines of both boards written")
                                : _("Outlines of the board written"));
    else
        fw_notice_show(self->notice, error->message, NULL, NULL);
}

static void
on_export_boards_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    const char *which = g_variant_get_string(parameter, NULL);
    if (!template_boards_find(which, &self->boards))
        return;
    gboolean both = self->boards == TEMPLATE_BOTH_BOARDS;
    g_autofree char *name = g_strdup_printf("%s-%s.dxf", desk_job(self->desk),
                                            both ? "board" : which);
    fw_window_choose_file(self,
                          both ? _("Outlines of both boards: the file\u2019s name gets -cope and "
                                   "-drag")
                               : _("Outlines of the board as DXF, in true size"),
                          GTK_FILE_CHOOSER_ACTION_SAVE, _("Export"), "dxf", _("DXF drawings"), name,
                          G_CALLBACK(on_boards_answered_cb));
}

void
fw_window_add_exports(FwWindow *self)
{
    const GActionEntry entries[] = {
        {.name = "export", .activate = on_export_cb},
        {.name = "export-boards", .parameter_type = "s", .activate = on_export_boards_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
    fw_window_add_traveller(self);
}

void
fw_window_update_exports(FwWindow *self)
{
    const Plan *plan = desk_plan(self->desk);
    const MouldLayout *mould = plan ? plan_mould(plan) : NULL;
    gboolean casting = fw_window_shows_casting(self);
    gboolean can = plan && (casting ? plan_pattern(plan) != NULL : mould != NULL) &&
                   !fw_window_shows_pull(self);
    if (fw_window_shows_calendar(self))
        can = plan != NULL;
    fw_window_enable(self, "export", can);
    fw_window_enable(self, "export-boards", mould && mould->n_cavities > 0);
    fw_window_update_traveller(self);
}
