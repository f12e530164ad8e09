// SPDX-License-Identifier: GPL-3.0-or-later
// Making, sharing and moving triangle meshes. Welding is in weld.c.
#include "solid/mesh.h"

#include "base/large.h"

static void
mesh_clear(gpointer data)
{
    SolidMesh *mesh = data;
    g_free(mesh->vertices);
    g_free(mesh->triangles);
}

SolidMesh *
solid_mesh_new(guint32 n_vertices, guint32 n_triangles)
{
    SolidMesh *mesh = g_atomic_rc_box_new0(SolidMesh);
    mesh->n_vertices = n_vertices;
    mesh->n_triangles = n_triangles;
    mesh->vertices = large_new0((gsize)n_vertices * sizeof *mesh->vertices);
    mesh->triangles = large_new0((gsize)n_triangles * sizeof *mesh->triangles);
    return mesh;
}

SolidMesh *
solid_mesh_ref(const SolidMesh *mesh)
{
    return g_atomic_rc_box_acquire((SolidMesh *)mesh);
}

void
solid_mesh_unref(const SolidMesh *mesh)
{
    if (mesh)
        g_atomic_rc_box_release_full((SolidMesh *)mesh, mesh_clear);
}

SolidMesh *
solid_mesh_transformed(const SolidMesh *mesh, const double rotation[9], Vec3 shift)
{
    SolidMesh *out = solid_mesh_new(mesh->n_vertices, mesh->n_triangles);
    const double *r = rotation;
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        out->vertices[i] = vec3(r[0] * v.x + r[1] * v.y + r[2] * v.z + shift.x,
                                r[3] * v.x + r[4] * v.y + r[5] * v.z + shift.y,
                                r[6] * v.x + r[7] * v.y + r[8] * v.z + shift.z);
    }
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            out->triangles[t][c] = mesh->triangles[t][c];
    return out;
}

SolidMesh *
solid_mesh_flipped(const SolidMesh *mesh)
{
    g_return_val_if_fail(mesh != NULL, NULL);
    SolidMesh *out = solid_mesh_new(mesh->n_vertices, mesh->n_triangles);
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        out->vertices[i] = mesh->vertices[i];
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        out->triangles[t][0] = mesh->triangles[t][0];
        out->triangles[t][1] = mesh->triangles[t][2];
        out->triangles[t][2] = mesh->triangles[t][1];
    }
    return out;
}

Vec3 *
solid_mesh_normals(const SolidMesh *mesh)
{
    const Vec3 *v = mesh->vertices;
    Vec3 *normals = g_new0(Vec3, (gsize)mesh->n_vertices + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *c = mesh->triangles[t];
        Vec3 n = vec3_cross(vec3_sub(v[c[1]], v[c[0]]), vec3_sub(v[c[2]], v[c[0]]));
        for (int i = 0; i < 3; i++)
            normals[c[i]] = vec3_add(normals[c[i]], n);
    }
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        normals[i] = vec3_unit(normals[i]);
    return normals;
}
