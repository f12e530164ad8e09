// SPDX-License-Identifier: GPL-3.0-or-later
// Binary STL in millimetres.
#include "solid/write.h"

#include <string.h>

#include "solid/write-file.h"

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
write_mesh(int fd, gconstpointer data)
{
    const SolidMesh *mesh = data;
    g_autofree guchar *block = g_malloc0(BLOCK * RECORD);
    // Not "solid": some readers take that for the ASCII kind.
    g_strlcpy((char *)block, "binary STL, millimetres", 80);
    put_u32(block + 80, mesh->n_triangles);
    if (!solid_write_bytes(fd, block, HEADER))
        return FALSE;
    for (guint32 from = 0; from < mesh->n_triangles; from += BLOCK) {
        guint32 n = MIN(mesh->n_triangles - from, BLOCK);
        for (guint32 i = 0; i < n; i++)
            put_triangle(block + (gsize)i * RECORD, mesh, mesh->triangles[from + i]);
        if (!solid_write_bytes(fd, block, (gsize)n * RECORD))
            return FALSE;
    }
    return TRUE;
}

gboolean
solid_write_stl(const SolidMesh *mesh, const char *path, gboolean replace, GError **error)
{
    g_return_val_if_fail(mesh != NULL && path != NULL, FALSE);
    return solid_write_check(mesh, path, error) &&
           solid_write_file(path, replace, write_mesh, mesh, error);
}
