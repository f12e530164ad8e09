// SPDX-License-Identifier: GPL-3.0-or-later
// A draft's name is a hash of the book's path, or random for a book without one. A slot is held by
// a lock on an empty file beside the draft; the system lets go of it when a program dies.
#include "book/draft.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#define UNSAVED "unsaved"
#define ENDING ".castbook"

struct DraftSlot {
    char *path, *lock_path;
    int lock; // the open file the lock is on
};

static char *
make_folder(void)
{
    char *folder = g_build_filename(g_get_user_data_dir(), "flaskwright", "drafts", NULL);
    g_mkdir_with_parents(folder, 0700);
    return folder;
}

char *
draft_path(const char *path)
{
    g_return_val_if_fail(path != NULL, NULL);
    g_autofree char *folder = make_folder();
    g_autofree char *whole = g_canonicalize_filename(path, NULL);
    g_autofree char *hash = g_compute_checksum_for_string(G_CHECKSUM_SHA256, whole, -1);
    g_autofree char *name = g_strconcat(hash, ENDING, NULL);
    return g_build_filename(folder, name, NULL);
}

// Where a file system knows no locks, nothing keeps two windows apart, but drafts must be kept.
static gboolean
lock_file(int file)
{
    return flock(file, LOCK_EX | LOCK_NB) == 0 || errno == ENOLCK || errno == ENOTSUP ||
           errno == ENOSYS;
}

// The slot of the draft at `path`, which need not be there. NULL if somebody holds it.
static DraftSlot *
hold(const char *path)
{
    g_autofree char *lock_path = g_strconcat(path, ".lock", NULL);
    int lock = open(lock_path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (lock >= 0 && !lock_file(lock)) {
        close(lock);
        lock = -1;
    }
    if (lock < 0)
        return NULL;
    DraftSlot *slot = g_new0(DraftSlot, 1);
    slot->path = g_strdup(path);
    slot->lock_path = g_steal_pointer(&lock_path);
    slot->lock = lock;
    return slot;
}

DraftSlot *
draft_slot_new(void)
{
    g_autofree char *folder = make_folder();
    g_autofree char *name = g_strdup_printf(UNSAVED "-%08x%08x" ENDING, g_random_int(),
                                            g_random_int());
    g_autofree char *path = g_build_filename(folder, name, NULL);
    return hold(path);
}

DraftSlot *
draft_slot_take(const char *path)
{
    g_return_val_if_fail(path != NULL, NULL);
    DraftSlot *slot = g_file_test(path, G_FILE_TEST_IS_REGULAR) ? hold(path) : NULL;
    // Whoever held it until now may have saved its book.
    if (slot && !g_file_test(path, G_FILE_TEST_IS_REGULAR))
        g_clear_pointer(&slot, draft_slot_free);
    return slot;
}

void
draft_slot_free(DraftSlot *slot)
{
    if (!slot)
        return;
    // With the draft the lock goes too; nobody takes a draft that is not there.
    if (!g_file_test(slot->path, G_FILE_TEST_EXISTS))
        g_unlink(slot->lock_path);
    close(slot->lock);
    g_free(slot->path);
    g_free(slot->lock_path);
    g_free(slot);
}

const char *
draft_slot_path(const DraftSlot *slot)
{
    g_return_val_if_fail(slot != NULL, NULL);
    return slot->path;
}

static gboolean
is_free(const char *path)
{
    DraftSlot *slot = draft_slot_take(path);
    gboolean taken = slot != NULL;
    draft_slot_free(slot);
    return taken;
}

// By the time of the last change, then by name, so that the order does not hang on the folder's.
static int
compare_age(gconstpointer a, gconstpointer b)
{
    const char *one = *(const char *const *)a, *two = *(const char *const *)b;
    GStatBuf first = {0}, second = {0};
    g_stat(one, &first);
    g_stat(two, &second);
    if (first.st_mtime != second.st_mtime)
        return first.st_mtime < second.st_mtime ? -1 : 1;
    return strcmp(one, two);
}

char **
draft_lost(void)
{
    g_autofree char *folder = make_folder();
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    GPtrArray *found = g_ptr_array_new();
    const char *name;
    while (dir && (name = g_dir_read_name(dir))) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        if (g_str_has_prefix(name, UNSAVED) && g_str_has_suffix(name, ENDING) && is_free(path))
            g_ptr_array_add(found, g_steal_pointer(&path));
    }
    g_ptr_array_sort(found, compare_age);
    g_ptr_array_add(found, NULL);
    return (char **)g_ptr_array_free(found, FALSE);
}

gboolean
draft_discard(const char *path)
{
    DraftSlot *slot = draft_slot_take(path);
    if (slot)
        g_unlink(slot->path);
    gboolean held = slot != NULL;
    draft_slot_free(slot);
    return held;
}
