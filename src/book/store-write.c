// SPDX-License-Identifier: GPL-3.0-or-later
// Saving whole or not at all: the text goes to a new file in the same folder, is forced to the
// disk, and then takes the old one's name in one step; last the folder is forced to the disk, so
// that the new name survives a power cut. Until that step the old file is untouched.
#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"
#include "book/store-hook.h"
#include "book/store.h"

int (*store_fail_hook)(const char *call) = NULL;

// Small, so that a save is several writes and a full disk can strike between them.
#define CHUNK 4096

gboolean
store_call_fails(const char *call)
{
    int code = store_fail_hook ? store_fail_hook(call) : 0;
    if (code)
        errno = code;
    return code != 0;
}

// What to do about it. A first clause that says nothing of room would send people looking for it.
static const char *
remedy_of(int code)
{
    if (code == EACCES || code == EPERM || code == EROFS)
        return _("it is read-only here: save it in another folder; what was there before is whole");
    if (code == ENOENT || code == ENOTDIR)
        return _("choose a folder that is there");
    return _("make room or choose another folder; what was there before is whole");
}

static gboolean
fail_save(const char *path, int code, GError **error)
{
    return base_error_setf(error, BASE_ERROR_FILE, path, NULL, remedy_of(code),
                           _("cannot be saved: %s"), g_strerror(code));
}

// The file itself when `path` is a symbolic link, also one that leads nowhere yet. Free.
static char *
follow_links(const char *path)
{
    g_autofree char *at = g_canonicalize_filename(path, NULL);
    for (int i = 0; i < 40; i++) {
        g_autofree char *target = g_file_read_link(at, NULL);
        if (!target)
            break;
        g_autofree char *folder = g_path_get_dirname(at);
        g_free(at);
        at = g_canonicalize_filename(target, folder);
    }
    return g_steal_pointer(&at);
}

// Whether an existing file may be replaced; `info` is its stat, st_mode 0 when there is none.
static gboolean
check_target(const char *path, gboolean replace, struct stat *info, GError **error)
{
    memset(info, 0, sizeof *info);
    if (stat(path, info) != 0)
        return errno == ENOENT || fail_save(path, errno, error);
    if (!S_ISREG(info->st_mode))
        return base_error_set(error, BASE_ERROR_FILE, path, NULL,
                              S_ISDIR(info->st_mode) ? _("is a folder") : _("is not a plain file"),
                              _("choose another name"));
    if (!replace)
        return base_error_set(error, BASE_ERROR_FILE, path, NULL, _("is there already"),
                              _("choose another name, or say that it may be replaced"));
    if (store_call_fails("access") || access(path, W_OK) != 0)
        return fail_save(path, errno, error);
    return TRUE;
}

// A new file beside `path`; its name in `beside`. -1 with errno if it cannot be made.
static int
open_beside(const char *path, char **beside)
{
    g_autofree char *folder = g_path_get_dirname(path);
    g_autofree char *base = g_path_get_basename(path);
    if (store_call_fails("open"))
        return -1;
    for (int i = 0; i < 100; i++) {
        g_autofree char *name = g_strdup_printf(".%.200s.%08x.new", base, g_random_int());
        g_autofree char *whole = g_build_filename(folder, name, NULL);
        int file = open(whole, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (file >= 0)
            *beside = g_steal_pointer(&whole);
        if (file >= 0 || errno != EEXIST)
            return file;
    }
    return -1;
}

static gboolean
write_all(int file, const char *text)
{
    gsize left = strlen(text);
    while (left > 0) {
        gssize n = store_call_fails("write") ? -1 : write(file, text, MIN(left, CHUNK));
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return FALSE;
        text += n;
        left -= (gsize)n;
    }
    return TRUE;
}

// Owner and permissions of the old file. Another's file may be writable and still not givable, so a
// refused change of owner is no failure.
static gboolean
keep_mode(int file, const struct stat *old)
{
    if (!old->st_mode)
        return TRUE;
    if (fchown(file, old->st_uid, old->st_gid) != 0 && fchown(file, (uid_t)-1, old->st_gid) != 0)
        return fchmod(file, old->st_mode & 0777) == 0;
    return fchmod(file, old->st_mode & 07777) == 0;
}

// Writes, syncs and closes; the file is closed in any case. FALSE with errno.
static gboolean
fill_file(int file, const char *text, const struct stat *old)
{
    gboolean good = write_all(file, text) && keep_mode(file, old) && !store_call_fails("sync") &&
                    fsync(file) == 0;
    int code = errno;
    if ((store_call_fails("close") | (close(file) != 0)) && good) {
        good = FALSE;
        code = errno;
    }
    errno = code;
    return good;
}

// Gives `beside` its name. Without `replace` a file that has appeared in the meantime wins.
static gboolean
take_name(const char *beside, const char *path, gboolean replace)
{
    if (store_call_fails("rename"))
        return FALSE;
    if (replace)
        return rename(beside, path) == 0;
    if (renameat2(AT_FDCWD, beside, AT_FDCWD, path, RENAME_NOREPLACE) == 0)
        return TRUE;
    if (errno != EINVAL && errno != ENOSYS)
        return FALSE;
    if (link(beside, path) != 0)
        return FALSE;
    unlink(beside);
    return TRUE;
}

gboolean
store_sync_folder(const char *path)
{
    g_autofree char *folder = g_path_get_dirname(path);
    int file = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0)
        return TRUE;
    gboolean good = !store_call_fails("folder") && fsync(file) == 0;
    int code = errno;
    close(file);
    errno = code;
    return good || code == EINVAL || code == ENOTSUP || code == EROFS;
}

gboolean
store_write(const Book *book, const char *path, gboolean replace, GError **error)
{
    g_return_val_if_fail(book != NULL && path != NULL, FALSE);
    g_autofree char *target = follow_links(path);
    g_autofree char *text = store_text(book);
    g_autofree char *beside = NULL;
    struct stat old;
    if (strlen(text) > STORE_MAX_BYTES)
        return base_error_setf(error, BASE_ERROR_LIMIT, path, NULL, _("split the book"),
                               _("would be larger than %u MB and could not be opened again"),
                               STORE_MAX_BYTES >> 20);
    if (!check_target(target, replace, &old, error))
        return FALSE;
    int file = open_beside(target, &beside);
    if (file < 0)
        return fail_save(path, errno, error);
    if (!fill_file(file, text, &old) || !take_name(beside, target, replace)) {
        int code = errno;
        unlink(beside);
        return fail_save(path, code, error);
    }
    if (!store_sync_folder(target))
        return base_error_setf(error, BASE_ERROR_FILE, path, NULL, _("save once more"),
                               _("is saved, but the disk did not confirm it: %s"),
                               g_strerror(errno));
    return TRUE;
}
