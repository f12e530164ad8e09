// SPDX-License-Identifier: GPL-3.0-or-later
// Files that appear whole or not at all.
#include "solid/write-file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"
#include "solid/write.h"

gboolean
solid_write_bytes(int fd, const guchar *data, gsize length)
{
    while (length > 0) {
        gssize n = write(fd, data, length);
        if (n < 0 && errno == EINTR)
            continue;
        if (n <= 0)
            return FALSE;
        data += n;
        length -= (gsize)n;
    }
    return TRUE;
}

gboolean
solid_write_check(const SolidMesh *mesh, const char *path, GError **error)
{
    if (mesh->n_triangles == 0)
        return base_error_set(error, BASE_ERROR_VALUE, path, NULL, _("there is nothing to write"),
                              NULL);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        // In float millimetres this is near the largest number; NaN fails too.
        if (!(fabs(v.x) < 1e35 && fabs(v.y) < 1e35 && fabs(v.z) < 1e35))
            return base_error_setf(error, BASE_ERROR_VALUE, path, NULL, NULL,
                                   _("vertex %u is not a number a mesh file can hold"), i);
    }
    return TRUE;
}

// Moves `from` to `to`. Without leave to replace, a link fails if `to` is there, at any moment;
// where links are not known the name is first taken by an empty file.
static gboolean
put_in_place(const char *from, const char *to, gboolean replace)
{
    if (replace)
        return g_rename(from, to) == 0;
    if (link(from, to) == 0) {
        g_unlink(from);
        return TRUE;
    }
    if (errno == EEXIST)
        return FALSE;
    int fd = g_open(to, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd < 0)
        return FALSE;
    close(fd);
    if (g_rename(from, to) == 0)
        return TRUE;
    int kept = errno;
    g_unlink(to);
    errno = kept;
    return FALSE;
}

// So that the new name itself survives a power cut; not all file systems can, which is no failure.
static void
sync_folder(const char *folder)
{
    int fd = g_open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
    if (fd < 0)
        return;
    fsync(fd);
    close(fd);
}

static gboolean
fail_write(const char *path, int number, GError **error)
{
    return base_error_set(error, BASE_ERROR_FILE, path, NULL,
                          number == EEXIST ? _("the file is already there") : g_strerror(number),
                          _("choose another name or folder"));
}

gboolean
solid_write_file(const char *path, gboolean replace, SolidWriteBody body, gconstpointer data,
                 GError **error)
{
    struct stat state;
    gboolean there = g_lstat(path, &state) == 0;
    if (there && !replace)
        return fail_write(path, EEXIST, error);
    g_autofree char *folder = g_path_get_dirname(path);
    g_autofree char *beside = g_build_filename(folder, ".mesh-XXXXXX", NULL);
    int fd = g_mkstemp_full(beside, O_WRONLY | O_CLOEXEC, 0666);
    if (fd < 0)
        return fail_write(path, errno, error);
    if (there && S_ISREG(state.st_mode))
        (void)!fchmod(fd, state.st_mode & 0777);
    gboolean ok = body(fd, data) && fsync(fd) == 0;
    int number = errno;
    if (close(fd) != 0 && ok) {
        ok = FALSE;
        number = errno;
    }
    if (ok && !put_in_place(beside, path, replace)) {
        ok = FALSE;
        number = errno;
    }
    if (!ok) {
        g_unlink(beside);
        return fail_write(path, number, error);
    }
    sync_folder(folder);
    return TRUE;
}

gboolean
solid_write_move(const char *from, const char *to, gboolean replace, GError **error)
{
    g_autofree char *folder = g_path_get_dirname(to);
    if (!put_in_place(from, to, replace))
        return fail_write(to, errno, error);
    sync_folder(folder);
    return TRUE;
}
