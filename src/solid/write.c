// SPDX-License-Identifier: GPL-3.0-or-later
// Binary STL in millimetres, written beside its place and moved there when it is whole and on the
// disk, so that a failure leaves what was there before.
#include "solid/write.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"

#define HEADER 84
#define RECORD 50
#define BLOCK 4096 // triangles

static void
put_u32(guchar *p, guint32 v)
{
    v = GUINT32_TO_LE(v);
    memcpy(p, &v, sizeof v);
}

static void
put_vec(guchar *p, Vec3 v)
{
    float f[3] = {(float)v.x, (float)v.y, (float)v.z};
    for (int i = 0; i < 3; i++) {
        guint32 bits;
        memcpy(&bits, &f[i], sizeof bits);
        put_u32(p + 4 * i, bits);
    }
}

static void
put_triangle(guchar *p, const SolidMesh *mesh, const guint32 t[3])
{
    Vec3 v[3];
    for (int c = 0; c < 3; c++) {
        v[c] = vec3_scale(mesh->vertices[t[c]], 1000);
        put_vec(p + 12 + 12 * c, v[c]);
    }
    put_vec(p, vec3_unit(vec3_cross(vec3_sub(v[1], v[0]), vec3_sub(v[2], v[0]))));
    memset(p + 48, 0, 2);
}

static gboolean
write_all(int fd, const guchar *data, gsize length)
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

static gboolean
write_mesh(int fd, const SolidMesh *mesh)
{
    g_autofree guchar *block = g_malloc0(BLOCK * RECORD);
    // Not "solid": some readers take that for the ASCII kind.
    g_strlcpy((char *)block, "binary STL, millimetres", 80);
    put_u32(block + 80, mesh->n_triangles);
    if (!write_all(fd, block, HEADER))
        return FALSE;
    for (guint32 from = 0; from < mesh->n_triangles; from += BLOCK) {
        guint32 n = MIN(mesh->n_triangles - from, BLOCK);
        for (guint32 i = 0; i < n; i++)
            put_triangle(block + (gsize)i * RECORD, mesh, mesh->triangles[from + i]);
        if (!write_all(fd, block, (gsize)n * RECORD))
            return FALSE;
    }
    return TRUE;
}

static gboolean
check_mesh(const SolidMesh *mesh, const char *path, GError **error)
{
    if (mesh->n_triangles == 0)
        return base_error_set(error, BASE_ERROR_VALUE, path, NULL, _("there is nothing to write"),
                              NULL);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        // In float millimetres this is near the largest number; NaN fails too.
        if (!(fabs(v.x) < 1e35 && fabs(v.y) < 1e35 && fabs(v.z) < 1e35))
            return base_error_setf(error, BASE_ERROR_VALUE, path, NULL, NULL,
                                   _("vertex %u is not a number an STL can hold"), i);
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
solid_write_stl(const SolidMesh *mesh, const char *path, gboolean replace, GError **error)
{
    g_return_val_if_fail(mesh != NULL && path != NULL, FALSE);
    if (!check_mesh(mesh, path, error))
        return FALSE;
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
    gboolean ok = write_mesh(fd, mesh) && fsync(fd) == 0;
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
