// SPDX-License-Identifier: GPL-3.0-or-later
// Candidate pulls. The spread is a spiral over the half-sphere that turns by the golden angle, so
// that any number of directions lies evenly.
#include "part/direction.h"

#include "solid/spread.h"

#define GOLDEN 2.399963229728653 // rad
#define ALIKE 0.004              // rad; normals this close are one face's
#define LEAST_SHARE 0.02         // of the surface, to be called a flat face

double
direction_angle(Vec3 a, Vec3 b)
{
    return atan2(vec3_length(vec3_cross(a, b)), fabs(vec3_dot(a, b)));
}

// Of the two ways along a line, the one that stands for it.
static Vec3
choose_way(Vec3 a)
{
    double least = 1e-9;
    gboolean turn = a.z < -least || (a.z <= least && a.y < -least) ||
                    (a.z <= least && a.y <= least && a.x < 0);
    a = vec3_scale(a, turn ? -1 : 1);
    return vec3(a.x + 0.0, a.y + 0.0, a.z + 0.0); // no minus zero
}

static void
add_own(GArray *list, Vec3 way, DirectionKind kind)
{
    way = choose_way(vec3_unit(way));
    for (guint i = 0; i < list->len; i++)
        if (direction_angle(g_array_index(list, Direction, i).way, way) < ALIKE)
            return;
    Direction d = {way, kind};
    g_array_append_val(list, d);
}

typedef struct {
    Vec3 sum; // of normals by area
    double area;
    gint64 key[3];
    guint32 first; // triangle, so that equals keep their order
} Face;

static guint
hash_face(gconstpointer data)
{
    const Face *f = data;
    return (guint)(f->key[0] * 73856093 ^ f->key[1] * 19349663 ^ f->key[2] * 83492791);
}

static gboolean
equal_face(gconstpointer a, gconstpointer b)
{
    const Face *f = a, *g = b;
    return f->key[0] == g->key[0] && f->key[1] == g->key[1] && f->key[2] == g->key[2];
}

static int
compare_faces(gconstpointer a, gconstpointer b)
{
    const Face *f = *(Face *const *)a, *g = *(Face *const *)b;
    if (f->area != g->area)
        return f->area > g->area ? -1 : 1;
    return f->first < g->first ? -1 : f->first > g->first;
}

static void
add_faces(GArray *list, const SolidMesh *mesh, double area, guint most)
{
    g_autoptr(GHashTable) faces = g_hash_table_new(hash_face, equal_face);
    g_autoptr(GPtrArray) sorted = g_ptr_array_new_with_free_func(g_free);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        double own;
        Vec3 n = choose_way(solid_normal(mesh, t, &own));
        Face look = {vec3_scale(n, own),
                     own,
                     {llround(n.x / ALIKE), llround(n.y / ALIKE), llround(n.z / ALIKE)},
                     t};
        Face *face = g_hash_table_lookup(faces, &look);
        if (!face) {
            face = g_memdup2(&look, sizeof look);
            g_hash_table_add(faces, face);
            g_ptr_array_add(sorted, face);
        } else {
            face->sum = vec3_add(face->sum, look.sum);
            face->area += own;
        }
    }
    g_ptr_array_sort(sorted, compare_faces);
    for (guint i = 0; i < MIN(sorted->len, most); i++) {
        const Face *face = g_ptr_array_index(sorted, i);
        if (face->area >= LEAST_SHARE * area)
            add_own(list, face->sum, DIRECTION_FACE);
    }
}

GArray *
direction_list(const SolidMesh *mesh, const SolidMeasure *measure, const Vec3 file[3], guint faces,
               guint spread)
{
    GArray *list = g_array_new(FALSE, FALSE, sizeof(Direction));
    for (int i = 0; i < 3; i++)
        add_own(list, file[i], DIRECTION_FILE_AXIS);
    for (int i = 0; i < 3; i++)
        add_own(list, measure->axes[i], DIRECTION_AXIS);
    add_faces(list, mesh, measure->area, faces);
    for (guint i = 0; i < spread; i++) {
        double z = (i + 0.5) / spread, r = sqrt(1 - z * z), turn = i * GOLDEN;
        Direction d = {vec3(r * cos(turn), r * sin(turn), z), DIRECTION_SPREAD};
        g_array_append_val(list, d);
    }
    return list;
}
