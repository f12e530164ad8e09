// SPDX-License-Identifier: GPL-3.0-or-later
// Faces with loops cut out, each loop joined to a second ring by walls: closed by construction, as
// neighbouring faces share their corners.
#include "board/slab.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "board/fill.h"

#define ROUND_SIDES 32

typedef struct {
    Vec3 min, max;
    GArray *vertices;             // Vec3
    GArray *triangles;            // guint[3], flat
    GPtrArray *loops[SLAB_FACES]; // of GArray of guint; the outline first
} Slab;

typedef struct {
    Vec3 u, v, n; // u x v = n, outwards
} Frame;

static Frame
frame_of(SlabFace face)
{
    static const Frame frames[SLAB_FACES] = {
        [SLAB_TOP] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
        [SLAB_BOTTOM] = {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
        [SLAB_LEFT] = {{0, -1, 0}, {0, 0, 1}, {-1, 0, 0}},
        [SLAB_RIGHT] = {{0, 1, 0}, {0, 0, 1}, {1, 0, 0}},
        [SLAB_FRONT] = {{1, 0, 0}, {0, 0, 1}, {0, -1, 0}},
        [SLAB_BACK] = {{-1, 0, 0}, {0, 0, 1}, {0, 1, 0}},
    };
    return frames[face];
}

static guint
add_vertex(Slab *slab, Vec3 v)
{
    g_array_append_val(slab->vertices, v);
    return slab->vertices->len - 1;
}

static void
add_triangle(Slab *slab, guint a, guint b, guint c)
{
    guint t[3] = {a, b, c};
    g_array_append_vals(slab->triangles, t, 3);
}

static Vec3
along(Vec3 from, Vec3 way, double length)
{
    return vec3_add(from, vec3_scale(way, length));
}

// The middle of the feature, moved onto its face.
static Vec3
middle_on_face(const Slab *slab, const SlabFeature *f)
{
    Vec3 m = f->middle;
    if (f->face == SLAB_TOP || f->face == SLAB_BOTTOM)
        m.z = f->face == SLAB_TOP ? slab->max.z : slab->min.z;
    else if (f->face == SLAB_LEFT || f->face == SLAB_RIGHT)
        m.x = f->face == SLAB_RIGHT ? slab->max.x : slab->min.x;
    else
        m.y = f->face == SLAB_BACK ? slab->max.y : slab->min.y;
    return m;
}

// A ring about a middle, anticlockwise seen from outside the face; first index returned.
static guint
add_ring(Slab *slab, const Frame *frame, const SlabFeature *f, Vec3 middle, double inset, guint *n)
{
    guint first = slab->vertices->len;
    *n = f->b > 0 ? 4 : ROUND_SIDES;
    for (guint i = 0; i < *n; i++) {
        double u, v;
        if (f->b > 0) {
            static const int corner[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
            u = corner[i][0] * (f->a - inset);
            v = corner[i][1] * (f->b - inset);
        } else {
            // The polygon's sides touch the circle, so that what is round goes through.
            double r = (f->a - inset) / cos(G_PI / ROUND_SIDES), turn = 2 * G_PI * (i + 0.5);
            u = r * cos(turn / ROUND_SIDES);
            v = r * sin(turn / ROUND_SIDES);
        }
        add_vertex(slab, along(along(middle, frame->u, u), frame->v, v));
    }
    return first;
}

static void
add_loop(Slab *slab, SlabFace face, guint first, guint n, gboolean reversed)
{
    GArray *loop = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint i = 0; i < n; i++) {
        guint v = first + (reversed ? n - 1 - i : i);
        g_array_append_val(loop, v);
    }
    g_ptr_array_add(slab->loops[face], loop);
}

static void
add_feature(Slab *slab, const SlabFeature *f)
{
    Frame frame = frame_of(f->face);
    Vec3 middle = middle_on_face(slab, f);
    double depth = f->through ? slab->min.z - slab->max.z : f->depth;
    double inset = f->through ? 0 : fabs(depth) * f->taper;
    guint n, a = add_ring(slab, &frame, f, middle, 0, &n);
    guint b = add_ring(slab, &frame, f, along(middle, frame.n, depth), inset, &n);
    for (guint i = 0; i < n; i++) {
        guint k = (i + 1) % n;
        add_triangle(slab, a + i, a + k, b + k);
        add_triangle(slab, a + i, b + k, b + i);
    }
    add_loop(slab, f->face, a, n, TRUE);
    if (f->through)
        add_loop(slab, SLAB_BOTTOM, b, n, FALSE);
    else
        for (guint i = 1; i + 1 < n; i++)
            add_triangle(slab, b, b + i, b + i + 1);
}

static void
add_corners(Slab *slab)
{
    // Corner c has x most if bit 0, y most if bit 1, z most if bit 2.
    static const guint outline[SLAB_FACES][4] = {
        [SLAB_TOP] = {4, 5, 7, 6},   [SLAB_BOTTOM] = {2, 3, 1, 0}, [SLAB_LEFT] = {2, 0, 4, 6},
        [SLAB_RIGHT] = {1, 3, 7, 5}, [SLAB_FRONT] = {0, 1, 5, 4},  [SLAB_BACK] = {3, 2, 6, 7}};
    for (guint c = 0; c < 8; c++)
        add_vertex(slab, vec3(c & 1 ? slab->max.x : slab->min.x, c & 2 ? slab->max.y : slab->min.y,
                              c & 4 ? slab->max.z : slab->min.z));
    for (int face = 0; face < SLAB_FACES; face++) {
        GArray *loop = g_array_new(FALSE, FALSE, sizeof(guint));
        g_array_append_vals(loop, outline[face], 4);
        g_ptr_array_add(slab->loops[face], loop);
    }
}

static gboolean
fill_face(Slab *slab, SlabFace face)
{
    Frame frame = frame_of(face);
    g_autofree SolidPoint *flat = g_new(SolidPoint, slab->vertices->len);
    for (guint i = 0; i < slab->vertices->len; i++) {
        Vec3 v = g_array_index(slab->vertices, Vec3, i);
        flat[i] = (SolidPoint){vec3_dot(v, frame.u), vec3_dot(v, frame.v)};
    }
    return board_fill(flat, slab->loops[face], slab->triangles);
}

static SolidMesh *
make_mesh(const Slab *slab)
{
    SolidMesh *mesh = solid_mesh_new(slab->vertices->len, slab->triangles->len / 3);
    memcpy(mesh->vertices, slab->vertices->data, slab->vertices->len * sizeof(Vec3));
    memcpy(mesh->triangles, slab->triangles->data, slab->triangles->len * sizeof(guint));
    return mesh;
}

SolidMesh *
board_slab(Vec3 min, Vec3 max, const SlabFeature *features, guint n, GError **error)
{
    g_autoptr(GArray) vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    g_autoptr(GArray) triangles = g_array_new(FALSE, FALSE, sizeof(guint));
    Slab slab = {min, max, vertices, triangles, {NULL}};
    for (int face = 0; face < SLAB_FACES; face++)
        slab.loops[face] = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
    add_corners(&slab);
    for (guint i = 0; i < n; i++)
        add_feature(&slab, &features[i]);
    gboolean ok = TRUE;
    for (int face = 0; face < SLAB_FACES && ok; face++)
        ok = fill_face(&slab, face);
    for (int face = 0; face < SLAB_FACES; face++)
        g_ptr_array_unref(slab.loops[face]);
    if (ok)
        return make_mesh(&slab);
    base_error_set(error, BASE_ERROR_VALUE, NULL, NULL, _("holes or tabs of a board touch"),
                   _("use a wider rim, a thicker board or thinner dowels"));
    return NULL;
}
