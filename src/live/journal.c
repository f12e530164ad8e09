// SPDX-License-Identifier: GPL-3.0-or-later
// Adding to a file so that power may fail at any moment: one write a line, then fsync, and only
// then is the line taken over. What a failed write left behind is cut off again, or, where even
// that fails or the power did, closed off with a line's end before the next; the reader passes it
// over by its check.
#include "live/journal.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"
#include "book/store-hook.h"
#include "book/store.h"

#define MOST_BYTES (64u << 20)

struct LiveJournal {
    char *path;
    int file; // held by a lock as long as it is open
    LiveLines *lines;
};

static char *
find_folder(void)
{
    g_autofree char *folder = g_build_filename(g_get_user_data_dir(), "flaskwright", "days", NULL);
    g_mkdir_with_parents(folder, 0700);
    return g_steal_pointer(&folder);
}

char *
live_journal_path(const char *book_path)
{
    g_autofree char *folder = find_folder();
    if (!book_path)
        return g_build_filename(folder, "unsaved.day", NULL);
    g_autofree char *whole = g_canonicalize_filename(book_path, NULL);
    g_autofree char *hash = g_compute_checksum_for_string(G_CHECKSUM_SHA256, whole, -1);
    g_autofree char *name = g_strdup_printf("%s.day", hash);
    return g_build_filename(folder, name, NULL);
}

gboolean
live_journal_exists(const char *book_path)
{
    g_autofree char *path = live_journal_path(book_path);
    return g_file_test(path, G_FILE_TEST_EXISTS);
}

static gboolean
fail_file(const char *path, int code, GError **error)
{
    return base_error_setf(error, BASE_ERROR_FILE, path, NULL,
                           _("make room, and tick again; what was kept before is whole"),
                           _("the day's journal cannot be written: %s"), g_strerror(code));
}

static gboolean
write_all(int file, const char *text, gsize length)
{
    while (length > 0) {
        gssize n = store_call_fails("write") ? -1 : write(file, text, length);
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return FALSE;
        text += n;
        length -= (gsize)n;
    }
    return !store_call_fails("sync") && fsync(file) == 0;
}

// Takes a name only if it is free.
static gboolean
take_name(const char *from, const char *to)
{
    if (store_call_fails("rename"))
        return FALSE;
    if (renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0)
        return TRUE;
    if ((errno != EINVAL && errno != ENOSYS) || link(from, to) != 0)
        return FALSE;
    unlink(from);
    return TRUE;
}

// A new file beside `path`; its name in *beside. -1 with errno if it cannot be made. One killed
// while starting may have left its own behind.
static int
open_beside(const char *path, char **beside)
{
    if (store_call_fails("open"))
        return -1;
    for (int i = 0; i < 100; i++) {
        g_autofree char *name = g_strdup_printf("%s.%08x.new", path, g_random_int());
        int file = open(name, O_RDWR | O_CREAT | O_EXCL | O_APPEND | O_CLOEXEC, 0600);
        if (file >= 0)
            *beside = g_steal_pointer(&name);
        if (file >= 0 || errno != EEXIST)
            return file;
    }
    return -1;
}

// Some file systems know no locks; there nothing keeps two windows apart, but ticking must go on.
static gboolean
lock(int file)
{
    return flock(file, LOCK_EX | LOCK_NB) == 0 || errno == ENOLCK || errno == ENOTSUP ||
           errno == ENOSYS;
}

static LiveJournal *
make_journal(const char *path, int file, LiveLines *lines)
{
    LiveJournal *journal = g_new0(LiveJournal, 1);
    journal->path = g_strdup(path);
    journal->file = file;
    journal->lines = lines;
    return journal;
}

// The file is locked before it takes its name, so that it is never found without its holder.
LiveJournal *
live_journal_start(const char *path, const Node *first, GError **error)
{
    g_return_val_if_fail(path != NULL && node_kind(first) == NODE_OBJECT, NULL);
    g_autofree char *line = live_line_make(first);
    if (g_file_test(path, G_FILE_TEST_EXISTS)) {
        base_error_set(error, BASE_ERROR_FILE, path, NULL,
                       _("a day of this book is going on already"),
                       _("go on with it, or finish it first"));
        return NULL;
    }
    g_autofree char *beside = NULL;
    int file = open_beside(path, &beside);
    if (file < 0) {
        fail_file(path, errno, error);
        return NULL;
    }
    if (!lock(file) || !write_all(file, line, strlen(line)) || !take_name(beside, path) ||
        !store_sync_folder(path)) {
        int code = errno;
        close(file);
        unlink(beside);
        fail_file(path, code, error);
        return NULL;
    }
    return make_journal(path, file, live_lines_read(line, strlen(line)));
}

static char *
read_all(int file, const char *path, gsize *length, GError **error)
{
    struct stat info;
    if (fstat(file, &info) != 0 || !S_ISREG(info.st_mode) || info.st_size > (goffset)MOST_BYTES) {
        base_error_set(error, BASE_ERROR_FORMAT, path, NULL, _("is not a day's journal"),
                       _("move it away to start another day"));
        return NULL;
    }
    g_autofree char *bytes = g_malloc((gsize)info.st_size + 1);
    gsize got = 0;
    while (got < (gsize)info.st_size) {
        gssize n = read(file, bytes + got, (gsize)info.st_size - got);
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0) {
            base_error_set(error, BASE_ERROR_FILE, path, NULL, g_strerror(errno),
                           _("check that it can be read"));
            return NULL;
        }
        if (n == 0)
            break;
        got += (gsize)n;
    }
    *length = got;
    return g_steal_pointer(&bytes);
}

static LiveJournal *
open_journal(const char *path, gboolean hold, GError **error)
{
    int file = open(path, (hold ? O_RDWR | O_APPEND : O_RDONLY) | O_CLOEXEC);
    if (file < 0) {
        int code = errno;
        base_error_set(error, BASE_ERROR_FILE, path, NULL,
                       code == ENOENT ? _("no day of this book is going on") : g_strerror(code),
                       code == ENOENT ? _("start one") : _("check that it can be read"));
        return NULL;
    }
    gsize length = 0;
    g_autofree char *bytes = NULL;
    if (hold && !lock(file))
        base_error_set(error, BASE_ERROR_FILE, path, NULL,
                       _("the day is being ticked in another window or program"),
                       _("tick there, or close it"));
    else
        bytes = read_all(file, path, &length, error);
    g_autoptr(LiveLines) lines = bytes ? live_lines_read(bytes, length) : NULL;
    if (lines && lines->nodes->len == 0) {
        g_clear_pointer(&lines, live_lines_free);
        base_error_set(error, BASE_ERROR_FORMAT, path, NULL, _("not one line of it is whole"),
                       _("move it away to start another day"));
    }
    if (!lines) {
        close(file);
        return NULL;
    }
    return make_journal(path, file, g_steal_pointer(&lines));
}

LiveJournal *
live_journal_open(const char *path, GError **error)
{
    g_return_val_if_fail(path != NULL, NULL);
    return open_journal(path, TRUE, error);
}

LiveJournal *
live_journal_look(const char *path, GError **error)
{
    g_return_val_if_fail(path != NULL, NULL);
    return open_journal(path, FALSE, error);
}

void
live_journal_close(LiveJournal *journal)
{
    if (!journal)
        return;
    close(journal->file);
    live_lines_free(journal->lines);
    g_free(journal->path);
    g_free(journal);
}

gboolean
live_journal_add(LiveJournal *journal, const Node *line, GError **error)
{
    g_return_val_if_fail(journal != NULL && node_kind(line) == NODE_OBJECT, FALSE);
    g_autofree char *text = live_line_make(line);
    g_autofree char *whole = g_strconcat(journal->lines->open_end ? "\n" : "", text, NULL);
    struct stat here, held;
    // A file that was deleted or replaced takes lines that nobody would ever find again.
    if (stat(journal->path, &here) != 0 || fstat(journal->file, &held) != 0)
        return fail_file(journal->path, errno, error);
    if (here.st_ino != held.st_ino || here.st_dev != held.st_dev)
        return fail_file(journal->path, ESTALE, error);
    if (!write_all(journal->file, whole, strlen(whole))) {
        int code = errno;
        // Part of it may be there, or all of it without the disk's word.
        if (ftruncate(journal->file, held.st_size) != 0)
            journal->lines->open_end = TRUE;
        return fail_file(journal->path, code, error);
    }
    journal->lines->open_end = FALSE;
    journal->lines->lines++;
    g_ptr_array_add(journal->lines->nodes, node_ref(line));
    return TRUE;
}

const char *
live_journal_file(const LiveJournal *journal)
{
    g_return_val_if_fail(journal != NULL, NULL);
    return journal->path;
}

const LiveLines *
live_journal_lines(const LiveJournal *journal)
{
    g_return_val_if_fail(journal != NULL, NULL);
    return journal->lines;
}

gboolean
live_journal_move(LiveJournal *journal, const char *path, GError **error)
{
    g_return_val_if_fail(journal != NULL && path != NULL, FALSE);
    if (strcmp(path, journal->path) == 0)
        return TRUE;
    if (!take_name(journal->path, path))
        return base_error_setf(error, BASE_ERROR_FILE, path, NULL,
                               _("the day goes on under the old name"),
                               _("the day's journal cannot be moved: %s"), g_strerror(errno));
    store_sync_folder(path);
    g_free(journal->path);
    journal->path = g_strdup(path);
    return TRUE;
}

// A colon does not suit every file system.
gboolean
live_journal_put_aside(LiveJournal *journal, const char *day_id, GError **error)
{
    g_return_val_if_fail(journal != NULL && day_id != NULL, FALSE);
    g_autofree char *name = g_strdup_printf("%s.done", day_id);
    g_strcanon(name, "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ-.", '-');
    g_autofree char *folder = find_folder();
    g_autofree char *aside = g_build_filename(folder, name, NULL);
    return live_journal_move(journal, aside, error);
}
