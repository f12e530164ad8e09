// SPDX-License-Identifier: GPL-3.0-or-later
// From numbered vertices and polygons to a welded mesh. A polygon becomes a fan from its first
// corner; where that would fold over (a hollow polygon), from a corner that sees all the others, if
// there is one.
#include "solid/build.h"

#include <glib/gi18n-lib.h>

#include "solid/weld-table.h"

#define MAX_VERTICES (3u * SOLID_MAX_TRIANGLES)

typedef struct {
    guint32 first;   // triangle
    guint32 corners; // triangles + 2
} Fan;

void
solid_build_init(SolidBuild *build, const SolidReadJob *job, gboolean by_line)
{
    *build = (SolidBuild){.job = job, .by_line = by_line};
    build->vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    build->triangles = g_array_new(FALSE, FALSE, 3 * sizeof(guint32));
    build->fans = g_array_new(FALSE, FALSE, sizeof(Fan));
}

void
solid_build_clear(SolidBuild *build)
{
    g_clear_pointer(&build->vertices, g_array_unref);
    g_clear_pointer(&build->triangles, g_array_unref);
    g_clear_pointer(&build->fans, g_array_unref);
}

static gboolean
fail_at(const SolidBuild *build, guint64 place, BaseError code, const char *remedy, GError **error,
        const char *what)
{
    if (build->by_line)
        return solid_fail_at_line(build->job, place, code, remedy, error, "%s", what);
    return solid_fail_at_byte(build->job, place, code, remedy, error, "%s", what);
}

gboolean
solid_build_vertex(SolidBuild *build, double x, double y, double z, guint64 place, GError **error)
{
    double s = build->job->scale;
    Vec3 v = vec3(x * s, y * s, z * s);
    if (!isfinite(x) || !isfinite(y) || !isfinite(z))
        return fail_at(build, place, BASE_ERROR_FORMAT, _("export it again"), error,
                       _("a coordinate is not a finite number"));
    if (!solid_is_near(v.x, v.y, v.z))
        return fail_at(build, place, BASE_ERROR_LIMIT, _("check the unit"), error,
                       _("a corner lies more than 1000 km from the origin"));
    if (build->vertices->len >= MAX_VERTICES)
        return solid_fail_too_many(build->job, error);
    g_array_append_val(build->vertices, v);
    return TRUE;
}

gboolean
solid_build_polygon(SolidBuild *build, const guint32 *corners, guint n, guint64 place,
                    GError **error)
{
    if (n < 3)
        return fail_at(build, place, BASE_ERROR_FORMAT, _("export triangles"), error,
                       _("a face has fewer than three corners"));
    if ((guint64)build->triangles->len + n - 2 > SOLID_MAX_TRIANGLES)
        return solid_fail_too_many(build->job, error);
    for (guint i = 0; i < n; i++)
        if (corners[i] >= build->vertices->len && corners[i] >= build->highest) {
            build->highest = corners[i] + (guint64)1;
            build->highest_place = place;
        }
    if (n > 3) {
        Fan fan = {build->triangles->len, n};
        g_array_append_val(build->fans, fan);
    }
    for (guint i = 1; i + 1 < n; i++) {
        guint32 t[3] = {corners[0], corners[i], corners[i + 1]};
        g_array_append_vals(build->triangles, t, 1);
    }
    return TRUE;
}

static Vec3
get_vertex(const SolidBuild *build, guint32 number)
{
    return g_array_index(build->vertices, Vec3, number);
}

static Vec3
get_cross(const SolidBuild *build, guint32 a, guint32 b, guint32 c)
{
    Vec3 p = get_vertex(build, a);
    return vec3_cross(vec3_sub(get_vertex(build, b), p), vec3_sub(get_vertex(build, c), p));
}

// Does every triangle of the fan from corner `apex` face the way the whole polygon does?
static gboolean
is_flat_fan(const SolidBuild *build, const guint32 *corners, guint n, guint apex, Vec3 normal)
{
    for (guint i = 1; i + 1 < n; i++) {
        Vec3 cross = get_cross(build, corners[apex], corners[(apex + i) % n],
                               corners[(apex + i + 1) % n]);
        if (vec3_dot(cross, normal) < 0)
            return FALSE;
    }
    return TRUE;
}

static void
turn_fan(SolidBuild *build, const Fan *fan, guint32 *corners)
{
    guint n = fan->corners;
    guint32(*t)[3] = (guint32(*)[3])(void *)build->triangles->data + fan->first;
    corners[0] = t[0][0];
    corners[1] = t[0][1];
    Vec3 normal = vec3(0, 0, 0);
    for (guint i = 2; i < n; i++) {
        corners[i] = t[i - 2][2];
        normal = vec3_add(normal, get_cross(build, corners[0], corners[i - 1], corners[i]));
    }
    guint apex = 0;
    while (apex < n && !is_flat_fan(build, corners, n, apex, normal))
        apex++;
    if (apex == 0 || apex == n)
        return;
    for (guint i = 1; i + 1 < n; i++) {
        t[i - 1][0] = corners[apex];
        t[i - 1][1] = corners[(apex + i) % n];
        t[i - 1][2] = corners[(apex + i + 1) % n];
    }
}

// Corners of one polygon for which all fans are tried: the work grows with the square.
#define MAX_TURNED 64

static gboolean
turn_fans(SolidBuild *build, GError **error)
{
    guint32 corners[MAX_TURNED];
    for (guint i = 0; i < build->fans->len; i++) {
        const Fan *fan = &g_array_index(build->fans, Fan, i);
        if (i % 4096 == 0 && !progress_check(build->job->progress, error))
            return FALSE;
        if (fan->corners <= MAX_TURNED)
            turn_fan(build, fan, corners);
    }
    return TRUE;
}

SolidMesh *
solid_build_end(SolidBuild *build, GError **error)
{
    if (build->triangles->len == 0) {
        solid_fail_empty(build->job, error);
        return NULL;
    }
    if (build->highest > build->vertices->len) {
        g_autofree char *what = g_strdup_printf(
            _("a face names vertex %" G_GUINT64_FORMAT " of %u"), build->highest,
            build->vertices->len);
        fail_at(build, build->highest_place, BASE_ERROR_FORMAT, _("export it again"), error, what);
        return NULL;
    }
    if (!turn_fans(build, error))
        return NULL;
    g_autoptr(SolidMesh) loose = solid_mesh_new(0, 0);
    loose->n_vertices = build->vertices->len;
    loose->vertices = (Vec3 *)(void *)g_array_free(g_steal_pointer(&build->vertices), FALSE);
    loose->n_triangles = build->triangles->len;
    loose->triangles = (guint32(*)[3])(void *)g_array_free(g_steal_pointer(&build->triangles),
                                                           FALSE);
    return solid_weld(loose, build->job->progress, error);
}
