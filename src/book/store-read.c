// SPDX-License-Identifier: GPL-3.0-or-later
// Reading a book from a file. Its size is looked at before anything is read and the reading itself
// is bounded, so that no file, and no device that pretends to be one, can fill the memory.
#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"
#include "book/check.h"
#include "book/scan.h"
#include "book/store.h"

Book *
store_parse(const char *text, gssize length, const char *name, const char *folder,
            const Tables *tables, GError **error)
{
    g_return_val_if_fail(text != NULL, NULL);
    gsize size = length < 0 ? strlen(text) : (gsize)length;
    if (size > STORE_MAX_BYTES) {
        base_error_setf(error, BASE_ERROR_LIMIT, name, NULL,
                        _("no book is that big; check that it is the right file"),
                        _("is larger than %u MB"), STORE_MAX_BYTES >> 20);
        return NULL;
    }
    g_autoptr(Node) root = scan_text(text, size, name, STORE_MAX_DEPTH, error);
    if (!root || !check_book(root, name, tables, error))
        return NULL;
    return book_new(root, folder);
}

static gboolean
fail_file(const char *path, int code, GError **error)
{
    return base_error_set(error, BASE_ERROR_FILE, path, NULL, g_strerror(code),
                          _("check the name and that it can be read"));
}

static gboolean
check_file(int file, const char *path, GError **error)
{
    struct stat info;
    if (fstat(file, &info) != 0)
        return fail_file(path, errno, error);
    if (S_ISDIR(info.st_mode))
        return base_error_set(error, BASE_ERROR_FILE, path, NULL, _("is a folder"),
                              _("choose a .castbook file in it"));
    if (S_ISREG(info.st_mode) && info.st_size > (goffset)STORE_MAX_BYTES)
        return base_error_setf(error, BASE_ERROR_LIMIT, path, NULL,
                               _("no book is that big; check that it is the right file"),
                               _("is larger than %u MB"), STORE_MAX_BYTES >> 20);
    return TRUE;
}

// Everything there is, at most one byte more than is allowed.
static GString *
read_all(int file, const char *path, GError **error)
{
    g_autoptr(GString) text = g_string_new(NULL);
    char buffer[65536];
    while (text->len <= STORE_MAX_BYTES) {
        gssize n = read(file, buffer, sizeof buffer);
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0) {
            fail_file(path, errno, error);
            return NULL;
        }
        if (n == 0)
            break;
        g_string_append_len(text, buffer, n);
    }
    return g_steal_pointer(&text);
}

Book *
store_read(const char *path, const Tables *tables, GError **error)
{
    g_return_val_if_fail(path != NULL, NULL);
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0) {
        fail_file(path, errno, error);
        return NULL;
    }
    g_autoptr(GString) text = NULL;
    if (check_file(file, path, error))
        text = read_all(file, path, error);
    close(file);
    if (!text)
        return NULL;
    g_autofree char *whole = g_canonicalize_filename(path, NULL);
    g_autofree char *folder = g_path_get_dirname(whole);
    return store_parse(text->str, (gssize)text->len, path, folder, tables, error);
}
