// SPDX-License-Identifier: GPL-3.0-or-later
// The command that writes the patterns to print: where to, in which format, how far it is, how it
// ended.
#include <glib/gi18n.h>

#include "plan/patterns.h"
#include "window/window-private.h"

static gboolean
on_writing_tick_cb(gpointer data)
{
    FwWindow *self = data;
    gtk_progress_bar_set_fraction(self->write_bar, fw_piece_writer_fraction(self->writer));
    gtk_label_set_text(self->write_words, fw_piece_writer_words(self->writer));
    gtk_widget_set_visible(self->write_task, TRUE);
    return G_SOURCE_CONTINUE;
}

static void
tell_end(FwWindow *self)
{
    FwPieceWriter *w = self->writer;
    guint files = fw_piece_writer_files(w), pieces = fw_piece_writer_pieces(w);
    g_autofree char *words = NULL;
    switch (fw_piece_writer_end(w)) {
    case PIECES_WRITTEN:
        words = g_strdup_printf(ngettext("%u file for the %u pieces to print was written to %s",
                                         "%u files for the %u pieces to print were written to %s",
                                         files),
                                files, pieces, fw_piece_writer_folder(w));
        fw_notice_show(self->notice, words, NULL, NULL);
        break;
    case PIECES_THERE:
        words = g_strdup_printf(ngettext("Nothing was written: %u of the files is already there "
                                         "(%s).",
                                         "Nothing was written: %u of the files are already there "
                                         "(the first is %s).",
                                         files),
                                files, fw_piece_writer_first(w));
        fw_notice_show(self->notice, words, _("Replace"), "win.replace-patterns");
        break;
    case PIECES_FAILED:
        fw_notice_show(self->notice, fw_piece_writer_trouble(w), _("Another folder…"),
                       "win.write-patterns");
        break;
    case PIECES_STOPPED:
        fw_window_say(self, _("Stopped: no pattern was written"));
        break;
    case PIECES_NOTHING:
    default:
        break;
    }
}

static void
on_writer_changed_cb(FwWindow *self)
{
    if (!self->desk)
        return;
    if (fw_piece_writer_is_running(self->writer)) {
        fw_notice_hide(self->notice);
        if (!self->write_timer)
            self->write_timer = g_timeout_add(100, on_writing_tick_cb, self);
        on_writing_tick_cb(self);
    } else {
        g_clear_handle_id(&self->write_timer, g_source_remove);
        gtk_widget_set_visible(self->write_task, FALSE);
        tell_end(self);
    }
    fw_window_update_pattern_commands(self);
}

void
fw_window_write_patterns(FwWindow *self, const char *folder, BoardFormat format, gboolean replace)
{
    const Plan *plan = desk_plan(self->desk);
    BoardOptions options;
    g_autoptr(GError) error = NULL;
    if (!plan)
        return;
    if (plan_pattern_options(plan, desk_tables(self->desk), desk_path(self->desk), &options,
                             &error))
        fw_piece_writer_start(self->writer, plan, &options, folder, format, replace,
                              G_APPLICATION(gtk_window_get_application(GTK_WINDOW(self))));
    else
        fw_notice_show(self->notice, error->message, NULL, NULL);
}

static void
on_folder_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autoptr(GtkFileChooserNative) chooser = g_steal_pointer(&self->chooser);
    if (response != GTK_RESPONSE_ACCEPT)
        return;
    g_autoptr(GFile) file = gtk_file_chooser_get_file(GTK_FILE_CHOOSER(chooser));
    g_autofree char *folder = file ? g_file_get_path(file) : NULL;
    BoardFormat format = BOARD_STL;
    board_format_find(gtk_file_chooser_get_choice(GTK_FILE_CHOOSER(chooser), "format"), &format);
    if (folder)
        fw_window_write_patterns(self, folder, format, FALSE);
    else
        fw_notice_show(self->notice,
                       _("The patterns can only be written to a folder of this "
                         "computer; choose another."),
                       _("Another folder…"), "win.write-patterns");
}

static void
on_write_patterns_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    const char *formats[] = {board_format_suffix(BOARD_STL), board_format_suffix(BOARD_3MF), NULL};
    const char *labels[] = {"STL", "3MF", NULL};
    g_clear_object(&self->chooser);
    self->chooser = gtk_file_chooser_native_new(
        _("Folder for the patterns to print"), GTK_WINDOW(self),
        GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("Write here"), _("Cancel"));
    GtkFileChooser *chooser = GTK_FILE_CHOOSER(self->chooser);
    gtk_file_chooser_add_choice(chooser, "format", _("Format of the files"), formats, labels);
    gtk_file_chooser_set_choice(chooser, "format", formats[0]);
    g_signal_connect(self->chooser, "response", G_CALLBACK(on_folder_answered_cb), self);
    gtk_native_dialog_show(GTK_NATIVE_DIALOG(self->chooser));
}

static void
on_replace_patterns_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    fw_piece_writer_replace(FW_WINDOW(data)->writer);
}

static void
on_stop_writing_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    fw_piece_writer_stop(FW_WINDOW(data)->writer);
}

void
fw_window_add_pattern_commands(FwWindow *self)
{
    const GActionEntry entries[] = {
        {.name = "write-patterns", .activate = on_write_patterns_cb},
        {.name = "replace-patterns", .activate = on_replace_patterns_cb},
        {.name = "stop-writing", .activate = on_stop_writing_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
    self->writer = fw_piece_writer_new();
    g_signal_connect_object(self->writer, "changed", G_CALLBACK(on_writer_changed_cb), self,
                            G_CONNECT_SWAPPED);
}

void
fw_window_update_pattern_commands(FwWindow *self)
{
    const Plan *plan = desk_plan(self->desk);
    gboolean running = fw_piece_writer_is_running(self->writer);
    fw_window_enable(self, "write-patterns",
                     plan && plan_board(plan) && !desk_is_busy(self->desk) && !running);
    fw_window_enable(self, "replace-patterns", fw_piece_writer_end(self->writer) == PIECES_THERE);
    fw_window_enable(self, "stop-writing", running);
}

void
fw_window_drop_writer(FwWindow *self)
{
    g_clear_handle_id(&self->write_timer, g_source_remove);
    if (self->writer)
        fw_piece_writer_stop(self->writer);
    g_clear_object(&self->writer);
}
