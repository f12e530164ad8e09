// SPDX-License-Identifier: GPL-3.0-or-later
// Books and files: opening, saving, new books, and what to do when a file may not be written, was
// changed by another program, or was left without being saved.
#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "base/error.h"
#include "book/draft.h"
#include "book/store.h"
#include "window/new-job.h"
#include "window/window-private.h"

#define ENDING ".castbook"

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
offer_draft(FwWindow *self)
{
    if (!desk_has_draft(self->desk))
        return;
    fw_notice_show(self->notice, _("Changes to this book were never saved. A draft has them."),
                   _("Restore the draft"), "win.restore-draft");
    fw_notice_add_remedy(self->notice, _("Throw it away"), "win.discard-draft");
}

gboolean
fw_window_open(FwWindow *self, const char *path)
{
    g_autoptr(GError) error = NULL;
    fw_notice_hide(self->notice);
    fw_live_page_leave(self->live);
    if (!desk_open(self->desk, path, &error)) {
        fw_notice_show(self->notice, error->message, _("Open another…"), "win.open");
        return FALSE;
    }
    fw_window_offer_day(self);
    g_free(self->offered);
    self->offered = g_strdup(desk_path(self->desk));
    offer_draft(self);
    return TRUE;
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

// Where somebody else's file is in the way, it may be replaced all the same.
static void
tell_not_saved(FwWindow *self, const char *path, gboolean in_the_way, const GError *error)
{
    fw_notice_show(self->notice, error->message, _("Save as…"), "win.save-as");
    if (!in_the_way)
        return;
    g_free(self->in_the_way);
    self->in_the_way = g_strdup(path);
    fw_notice_add_remedy(self->notice, _("Replace it"), "win.replace");
}

// `path` NULL: over the book's own file, unless another program has changed that. Else `replace`
// says whether a file of that name may be overwritten.
static void
save_to(FwWindow *self, const char *path, gboolean replace)
{
    g_autoptr(GError) error = NULL;
    self->saving = TRUE;
    gboolean saved = path ? desk_save_as(self->desk, path, replace, &error)
                          : desk_save(self->desk, &error);
    self->saving = FALSE;
    if (!saved) {
        gboolean changed = g_error_matches(error, BASE_ERROR, BASE_ERROR_CHANGED);
        self->told_overtaken = changed;
        gboolean there = path && !replace && g_file_test(path, G_FILE_TEST_IS_REGULAR);
        tell_not_saved(self, path ? path : desk_path(self->desk), changed || there, error);
        return;
    }
    fw_notice_hide(self->notice);
    if (g_strcmp0(self->offered, desk_path(self->desk)) == 0)
        offer_draft(self); // one that was not answered yet
    fw_live_page_follow(self->live, desk_path(self->desk));
    fw_window_update_day(self);
    fw_window_say(self, _("Saved"));
}

// The chooser asks before it answers with a file that is there, but knows nothing of the ending,
// without which the book would not be offered for opening.
static void
on_save_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autofree char *path = fw_window_take_answer(self, response);
    if (!path)
        return;
    gboolean ended = g_str_has_suffix(path, ENDING);
    g_autofree char *whole = g_strconcat(path, ended ? NULL : ENDING, NULL);
    save_to(self, whole, ended);
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
        save_to(self, NULL, FALSE);
    else
        on_save_as_cb(action, parameter, data);
}

static void
on_replace_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *path = g_steal_pointer(&self->in_the_way);
    if (path)
        save_to(self, path, TRUE);
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

// Is the draft that was offered still that of the book in the window? Another may have taken its
// place.
static gboolean
is_draft_offered(FwWindow *self)
{
    gboolean same = self->offered && g_strcmp0(self->offered, desk_path(self->desk)) == 0;
    if (!same)
        fw_notice_hide(self->notice);
    return same;
}

static void
on_restore_draft_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autoptr(GError) error = NULL;
    if (!is_draft_offered(self))
        return;
    if (desk_restore_draft(self->desk, &error)) {
        fw_window_offer_day(self);
        return;
    }
    fw_notice_show(self->notice, error->message, _("Throw it away"), "win.discard-draft");
}

static void
on_discard_draft_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    if (is_draft_offered(self))
        desk_discard_draft(self->desk);
}

// "Bracket, 26 Nov 01:22": the first job of a draft and when it was last changed. Free.
static char *
name_draft(FwWindow *self, const char *draft)
{
    g_autoptr(Book) book = store_read(draft, desk_tables(self->desk), NULL);
    const char *id = book && book_job_count(book) > 0 ? book_job_id(book, 0) : NULL;
    const char *job = id ? book_job_name(book, id) : NULL;
    GStatBuf info = {0};
    g_stat(draft, &info);
    g_autoptr(GDateTime) changed = g_date_time_new_from_unix_local(info.st_mtime);
    g_autofree char *time = changed ? g_date_time_format(changed, "%e %b %H:%M") : g_strdup("");
    return g_strdup_printf("%s, %s", job && *job ? job : id ? id : _("no job"), g_strstrip(time));
}

void
fw_window_offer_lost(FwWindow *self)
{
    g_auto(GStrv) lost = draft_lost();
    gboolean offered = self->lost != NULL;
    g_free(self->lost);
    self->lost = g_strdup(lost[0]);
    if (!self->lost) {
        if (offered)
            fw_notice_hide(self->notice);
        return;
    }
    g_autofree char *name = name_draft(self, self->lost);
    guint n = g_strv_length(lost);
    g_autofree char *words = g_strdup_printf(
        ngettext("Work was never saved: %s. A draft has it.",
                 "Work was never saved: %s, the oldest of %u drafts.", n),
        name, n);
    fw_notice_show(self->notice, words, _("Restore the draft"), "win.restore-lost");
    fw_notice_add_remedy(self->notice, _("Throw it away"), "win.discard-lost");
}

// As with opening, another window takes it if this one holds changes. The next is offered there.
static void
on_restore_lost_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *lost = g_strdup(self->lost);
    g_autoptr(GError) error = NULL;
    if (!lost)
        return;
    g_autoptr(Book) readable = store_read(lost, desk_tables(self->desk), &error);
    if (!readable) { // nothing else is closed for it
        fw_notice_show(self->notice, error->message, _("Throw it away"), "win.discard-lost");
        return;
    }
    FwWindow *window = window_for_another(self);
    fw_live_page_leave(window->live);
    if (desk_book(window->desk))
        desk_close(window->desk);
    if (desk_restore_lost(window->desk, lost, &error))
        fw_window_offer_lost(window);
    else
        fw_notice_show(self->notice, error->message, _("Throw it away"), "win.discard-lost");
}

static void
on_discard_lost_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    if (self->lost)
        draft_discard(self->lost);
    fw_window_offer_lost(self);
}

static void
tell_overtaken(FwWindow *self)
{
    if (desk_is_dirty(self->desk))
        fw_notice_show(self->notice,
                       _("This book's file has been changed since, and so have you here. Saving "
                         "under another name keeps both."),
                       _("Save as…"), "win.save-as");
    else
        fw_notice_show(self->notice, _("Another program has changed this book's file."),
                       _("Open it again"), "win.open-again");
}

// While somebody was elsewhere, another program may have written the book.
static void
on_active_changed_cb(FwWindow *self)
{
    gboolean told = self->told_overtaken;
    if (!gtk_window_is_active(GTK_WINDOW(self)))
        return;
    self->told_overtaken = desk_is_overtaken(self->desk);
    if (self->told_overtaken && !told)
        tell_overtaken(self);
}

static void
on_open_again_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *path = g_strdup(desk_path(self->desk));
    if (desk_is_dirty(self->desk)) // edited since it was offered
        tell_overtaken(self);
    else if (path)
        fw_window_open(self, path);
}

void
fw_window_add_files(FwWindow *self)
{
    const GActionEntry entries[] = {
        {.name = "new-book", .activate = on_new_book_cb},
        {.name = "open", .activate = on_open_cb},
        {.name = "open-again", .activate = on_open_again_cb},
        {.name = "save", .activate = on_save_cb},
        {.name = "save-as", .activate = on_save_as_cb},
        {.name = "replace", .activate = on_replace_cb},
        {.name = "demo", .activate = on_demo_cb},
        {.name = "new-job", .activate = on_new_job_cb},
        {.name = "restore-draft", .activate = on_restore_draft_cb},
        {.name = "discard-draft", .activate = on_discard_draft_cb},
        {.name = "restore-lost", .activate = on_restore_lost_cb},
        {.name = "discard-lost", .activate = on_discard_lost_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
    g_signal_connect(self, "notify::is-active", G_CALLBACK(on_active_changed_cb), NULL);
}
