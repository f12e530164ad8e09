// SPDX-License-Identifier: GPL-3.0-or-later
// The command that writes the sessions to a calendar file or as rows. The chooser asks before a
// file is replaced; if the days are still to be planned, the file is written when they are.
#include <glib/gi18n.h>
#include <string.h>

#include "report/batch.h"
#include "window/window-private.h"

#define ALARM (12 * 60) // min before a session; a calendar program lets it be changed

static void
write_file(FwWindow *self, const BatchPlan *batch)
{
    g_autofree char *path = g_steal_pointer(&self->calendar_path);
    g_autoptr(GError) error = NULL;
    if (report_batch_write(batch, desk_path(self->desk), ALARM, FALSE, path, TRUE, &error))
        fw_window_say(self, _("Calendar written"));
    else
        fw_notice_show(self->notice, error->message, _("Another file…"), "win.export-calendar");
}

void
fw_window_write_calendar(FwWindow *self, const char *path)
{
    g_free(self->calendar_path);
    self->calendar_path = g_strdup(path);
    const BatchPlan *batch = fw_calendar_view_batch(self->calendar, TRUE);
    if (batch)
        write_file(self, batch);
    else
        fw_window_say(self, _("Planning all jobs over the free days; the calendar is written when "
                              "that is done"));
}

static void
on_made_cb(FwCalendarView *view, FwWindow *self)
{
    const BatchPlan *batch = fw_calendar_view_batch(view, FALSE);
    if (!self->desk || !self->calendar_path)
        return;
    if (batch) {
        write_file(self, batch);
        return;
    }
    g_clear_pointer(&self->calendar_path, g_free);
    if (fw_calendar_view_trouble(view))
        fw_notice_show(self->notice, fw_calendar_view_trouble(view), NULL, NULL);
}

static void
on_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autoptr(GtkFileChooserNative) chooser = g_steal_pointer(&self->chooser);
    if (response != GTK_RESPONSE_ACCEPT)
        return;
    g_autoptr(GFile) file = gtk_file_chooser_get_file(GTK_FILE_CHOOSER(chooser));
    g_autofree char *path = file ? g_file_get_path(file) : NULL;
    if (path)
        fw_window_write_calendar(self, path);
    else
        fw_notice_show(self->notice,
                       _("The calendar can only be written to a file of this computer; choose "
                         "another."),
                       _("Another file…"), "win.export-calendar");
}

// "loom-hardware.ics". Free.
static char *
propose_name(FwWindow *self)
{
    g_autofree char *base = desk_path(self->desk) ? g_path_get_basename(desk_path(self->desk))
                                                  : g_strdup(_("sessions"));
    char *dot = strrchr(base, '.');
    if (dot && dot > base)
        *dot = '\0';
    return g_strconcat(base, ".ics", NULL);
}

static void
on_export_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *name = propose_name(self);
    g_clear_object(&self->chooser);
    self->chooser = gtk_file_chooser_native_new(
        _("Export the sessions as a calendar (.ics) or as rows (.csv)"), GTK_WINDOW(self),
        GTK_FILE_CHOOSER_ACTION_SAVE, _("Export"), _("Cancel"));
    gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(self->chooser), name);
    g_signal_connect(self->chooser, "response", G_CALLBACK(on_answered_cb), self);
    gtk_native_dialog_show(GTK_NATIVE_DIALOG(self->chooser));
}

void
fw_window_add_calendar_commands(FwWindow *self)
{
    const GActionEntry entries[] = {{.name = "export-calendar", .activate = on_export_cb}};
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
}

void
fw_window_start_calendar(FwWindow *self)
{
    fw_calendar_view_set_desk(self->calendar, self->desk);
    g_signal_connect_object(self->calendar, "made", G_CALLBACK(on_made_cb), self, 0);
}

void
fw_window_update_calendar_commands(FwWindow *self)
{
    const Book *book = desk_book(self->desk);
    GAction *action = g_action_map_lookup_action(G_ACTION_MAP(self), "export-calendar");
    g_simple_action_set_enabled(G_SIMPLE_ACTION(action), book && book_job_count(book) > 0);
}
