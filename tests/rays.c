// SPDX-License-Identifier: GPL-3.0-or-later
// Plain ways, without anything the pieces are made with.
#include "rays.h"

#include <stdlib.h>
#include <string.h>

#include "solid/check.h"
#include "solid/write.h"

static int
compare_heights(gconstpointer a, gconstpointer b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

GArray *
rays_cross(const SolidMesh *mesh, double x, double y)
{
    GArray *out = g_array_new(FALSE, FALSE, sizeof(double));
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        Vec3 v[3];
        double w[3], sum = 0;
        for (int c = 0; c < 3; c++)
            v[c] = mesh->vertices[mesh->triangles[t][c]];
        for (int c = 0; c < 3; c++) {
            Vec3 a = v[(c + 1) % 3], b = v[(c + 2) % 3];
            w[c] = (a.x - x) * (b.y - y) - (b.x - x) * (a.y - y);
            sum += w[c];
        }
        if (!((w[0] > 0 && w[1] > 0 && w[2] > 0) || (w[0] < 0 && w[1] < 0 && w[2] < 0)))
            continue;
        double z = (w[0] * v[0].z + w[1] * v[1].z + w[2] * v[2].z) / sum;
        g_array_append_val(out, z);
    }
    g_array_sort(out, compare_heights);
    return out;
}

gboolean
rays_inside(const SolidMesh *mesh, Vec3 p)
{
    g_autoptr(GArray) heights = rays_cross(mesh, p.x, p.y);
    guint above = 0;
    for (guint i = 0; i < heights->len; i++)
        above += g_array_index(heights, double, i) > p.z;
    return above % 2 == 1;
}

double
rays_half_volume(const SolidMesh *mesh, int side)
{
    double volume = 0;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        Vec3 in[4];
        int n = 0;
        for (int c = 0; c < 3; c++) {
            Vec3 a = mesh->vertices[mesh->triangles[t][c]];
            Vec3 b = mesh->vertices[mesh->triangles[t][(c + 1) % 3]];
            if (side * a.z >= 0)
                in[n++] = a;
            if ((side * a.z >= 0) != (side * b.z >= 0))
                in[n++] = vec3_add(a, vec3_scale(vec3_sub(b, a), a.z / (a.z - b.z)));
        }
        for (int c = 1; c + 1 < n; c++) {
            Vec3 cross = vec3_cross(vec3_sub(in[c], in[0]), vec3_sub(in[c + 1], in[0]));
            volume += cross.z / 2 * (in[0].z + in[c].z + in[c + 1].z) / 3;
        }
    }
    return volume;
}

void
rays_check_closed(const SolidMesh *mesh, const char *what)
{
    SolidCheck check = solid_check(mesh);
    g_autofree char *words = solid_check_words(&check);
    g_test_message("%s: %u triangles, %s", what, mesh->n_triangles, words);
    g_assert_true(check.closed);
    g_assert_cmpuint(check.overfull_edges, ==, 0);
    g_assert_cmpuint(check.flipped_edges, ==, 0);
    g_assert_cmpuint(check.degenerate, ==, 0);
    g_assert_cmpuint(check.duplicates, ==, 0);
    g_assert_cmpuint(check.inside_out, ==, 0);
}

// The number after the last colon of the line that begins with `label`, its last word.
static int
read_last(const char *text, const char *label)
{
    const char *line = strstr(text, label);
    g_assert_nonnull(line);
    g_autofree char *one = g_strndup(line, strcspn(line, "\n"));
    g_strchomp(one);
    const char *last = strrchr(one, ' ');
    g_assert_nonnull(last);
    return atoi(last + 1);
}

gboolean
rays_check_admesh(const SolidMesh *mesh, const char *what)
{
    g_autofree char *program = g_find_program_in_path("admesh");
    if (!program)
        return FALSE;
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "piece.stl", NULL);
    g_assert_true(solid_write_stl(mesh, path, FALSE, &error));
    g_assert_no_error(error);
    // Exact joins only: nothing may be mended on the way.
    const char *const argv[] = {program, "--exact", path, NULL};
    g_autofree char *out = NULL;
    int status = 1;
    g_assert_true(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                               &out, NULL, &status, &error));
    g_assert_no_error(error);
    g_assert_cmpint(status, ==, 0);
    g_test_message("admesh on %s", what);
    g_assert_cmpint(read_last(out, "Total disconnected facets"), ==, 0);
    g_assert_cmpint(read_last(out, "Degenerate facets"), ==, 0);
    g_assert_cmpint(read_last(out, "Facets reversed"), ==, 0);
    g_assert_cmpint(read_last(out, "Backwards edges"), ==, 0);
    check_folder_remove(folder);
    return TRUE;
}

double
rays_outside(const SolidOutline *o, double x, double y)
{
    gboolean in = FALSE;
    double least = INFINITY;
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop], n = o->starts[loop + 1]; i < n; i++) {
            SolidPoint a = o->points[i], b = o->points[i + 1 < n ? i + 1 : o->starts[loop]];
            double dx = b.x - a.x, dy = b.y - a.y, d2 = dx * dx + dy * dy;
            double t = d2 > 0 ? CLAMP(((x - a.x) * dx + (y - a.y) * dy) / d2, 0, 1) : 0;
            least = fmin(least, hypot(x - a.x - t * dx, y - a.y - t * dy));
            if ((a.y > y) != (b.y > y) && x < a.x + dx * (y - a.y) / dy)
                in = !in;
        }
    return in ? 0 : least;
}
