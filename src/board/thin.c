// SPDX-License-Identifier: GPL-3.0-or-later
// Vertices are drawn into a neighbour, the cheapest first in a few rounds. The cost is the sum of
// the squared distances from the planes of all faces a vertex has stood for (M. Garland and P. S.
// Heckbert, Surface simplification using quadric error metrics, 1997; from memory), so that errors
// cannot add up unseen.
#include "board/thin.h"

#include <string.h>

#define NONE G_MAXUINT32
#define MOST_NEIGHBOURS 64
#define ROUNDS 5
#define LEAST_TURN 0.5 // cosine of the most a face may turn

// Symmetric 4 by 4: xx xy xz xw yy yz yw zz zw ww, about a middle for accuracy.
typedef struct {
    double q[10];
} Quadric;

typedef struct {
    SolidMesh *mesh; // our own copy
    guint8 *upright, *dead;
    Quadric *quadric;
    guint32 *first, *next; // corners at each vertex
    Vec3 middle;
    double tolerance;
} Thin;

static void
add_plane(Quadric *to, Vec3 n, double d)
{
    const double p[4] = {n.x, n.y, n.z, d};
    for (int i = 0, k = 0; i < 4; i++)
        for (int j = i; j < 4; j++)
            to->q[k++] += p[i] * p[j];
}

static double
measure_at(const Quadric *a, const Quadric *b, Vec3 v)
{
    const double p[4] = {v.x, v.y, v.z, 1};
    double sum = 0;
    for (int i = 0, k = 0; i < 4; i++)
        for (int j = i; j < 4; j++, k++)
            sum += (i == j ? 1 : 2) * (a->q[k] + b->q[k]) * p[i] * p[j];
    return sum;
}

static void
place_corners(const Thin *thin, guint32 t, Vec3 v[3])
{
    for (int c = 0; c < 3; c++)
        v[c] = thin->mesh->vertices[thin->mesh->triangles[t][c]];
}

static Vec3
face_normal(const Vec3 v[3])
{
    return vec3_cross(vec3_sub(v[1], v[0]), vec3_sub(v[2], v[0]));
}

static void
start(Thin *thin)
{
    const SolidMesh *m = thin->mesh;
    memset(thin->first, 0xff, m->n_vertices * sizeof *thin->first);
    for (guint32 t = 0; t < m->n_triangles; t++) {
        Vec3 v[3];
        place_corners(thin, t, v);
        Vec3 n = vec3_unit(face_normal(v));
        double d = -vec3_dot(n, vec3_sub(v[0], thin->middle));
        for (guint32 c = 0; c < 3; c++) {
            guint32 at = m->triangles[t][c];
            add_plane(&thin->quadric[at], n, d);
            thin->next[3 * t + c] = thin->first[at];
            thin->first[at] = 3 * t + c;
        }
    }
}

// Vertices about one; how many, or more than MOST_NEIGHBOURS.
static int
find_neighbours(const Thin *thin, guint32 at, guint32 found[MOST_NEIGHBOURS])
{
    int n = 0;
    for (guint32 k = thin->first[at]; k != NONE; k = thin->next[k]) {
        const guint32 *t = thin->mesh->triangles[k / 3];
        // The next corner round each face: every neighbour once on a closed skin.
        if (thin->dead[k / 3])
            continue;
        if (n == MOST_NEIGHBOURS)
            return n + 1;
        found[n++] = t[(k % 3 + 1) % 3];
    }
    return n;
}

// Do the two share exactly the two neighbours their common faces have? Else the skin would pinch.
static gboolean
keeps_skin(const Thin *thin, const guint32 *about, int n, guint32 to)
{
    guint32 other[MOST_NEIGHBOURS];
    int m = find_neighbours(thin, to, other), shared = 0;
    if (m > MOST_NEIGHBOURS || m + n < 8)
        return FALSE;
    for (int i = 0; i < n; i++)
        for (int j = 0; j < m; j++)
            shared += about[i] == other[j];
    return shared == 2;
}

// Would every face about `from` still look the same way, and up if it must, with `from` at `to`?
static gboolean
keeps_faces(const Thin *thin, guint32 from, guint32 to)
{
    const SolidMesh *m = thin->mesh;
    for (guint32 k = thin->first[from]; k != NONE; k = thin->next[k]) {
        guint32 t = k / 3;
        const guint32 *c = m->triangles[t];
        if (thin->dead[t] || c[0] == to || c[1] == to || c[2] == to)
            continue;
        Vec3 v[3];
        place_corners(thin, t, v);
        Vec3 before = face_normal(v);
        v[k % 3] = m->vertices[to];
        Vec3 after = face_normal(v);
        double length = vec3_length(after);
        // Not so thin that rounding to a file's numbers could turn it.
        double longest = 0;
        for (int e = 0; e < 3; e++)
            longest = fmax(longest, vec3_length(vec3_sub(v[e], v[(e + 1) % 3])));
        if (!(length > 0.02 * longest * longest) ||
            vec3_dot(before, after) < LEAST_TURN * vec3_length(before) * length)
            return FALSE;
        if (thin->upright[t] && after.z < 0)
            return FALSE;
    }
    return TRUE;
}

static void
draw_into(Thin *thin, guint32 from, guint32 to)
{
    SolidMesh *m = thin->mesh;
    for (int i = 0; i < 10; i++)
        thin->quadric[to].q[i] += thin->quadric[from].q[i];
    for (guint32 k = thin->first[from], next; k != NONE; k = next) {
        guint32 *t = m->triangles[k / 3];
        next = thin->next[k];
        if (thin->dead[k / 3])
            continue;
        if (t[0] == to || t[1] == to || t[2] == to) {
            thin->dead[k / 3] = 1;
            continue;
        }
        t[k % 3] = to;
        thin->next[k] = thin->first[to];
        thin->first[to] = k;
    }
    thin->first[from] = NONE;
}

static gboolean
try_vertex(Thin *thin, guint32 from, double limit)
{
    guint32 about[MOST_NEIGHBOURS];
    int n = find_neighbours(thin, from, about);
    if (n > MOST_NEIGHBOURS)
        return FALSE;
    gboolean tried[MOST_NEIGHBOURS] = {FALSE};
    // The cheapest that can be done; few tries, as most fail for the same reason.
    for (int attempt = 0; attempt < 3; attempt++) {
        int best = -1;
        double least = limit;
        for (int i = 0; i < n; i++) {
            Vec3 at = vec3_sub(thin->mesh->vertices[about[i]], thin->middle);
            double cost = measure_at(&thin->quadric[from], &thin->quadric[about[i]], at);
            if (!tried[i] && cost < least) {
                least = cost;
                best = i;
            }
        }
        if (best < 0)
            return FALSE;
        if (keeps_skin(thin, about, n, about[best]) && keeps_faces(thin, from, about[best])) {
            draw_into(thin, from, about[best]);
            return TRUE;
        }
        tried[best] = TRUE;
    }
    return FALSE;
}

static SolidMesh *
gather(const Thin *thin)
{
    const SolidMesh *m = thin->mesh;
    g_autofree guint32 *number = g_new(guint32, m->n_vertices + 1);
    memset(number, 0xff, m->n_vertices * sizeof *number);
    guint32 vertices = 0, triangles = 0;
    for (guint32 t = 0; t < m->n_triangles; t++) {
        if (thin->dead[t])
            continue;
        triangles++;
        for (int c = 0; c < 3; c++)
            if (number[m->triangles[t][c]] == NONE)
                number[m->triangles[t][c]] = vertices++;
    }
    SolidMesh *out = solid_mesh_new(vertices, triangles);
    for (guint32 v = 0; v < m->n_vertices; v++)
        if (number[v] != NONE)
            out->vertices[number[v]] = m->vertices[v];
    triangles = 0;
    for (guint32 t = 0; t < m->n_triangles; t++) {
        if (thin->dead[t])
            continue;
        for (int c = 0; c < 3; c++)
            out->triangles[triangles][c] = number[m->triangles[t][c]];
        triangles++;
    }
    return out;
}

SolidMesh *
board_thin(const SolidMesh *mesh, const guint8 *upright, double tolerance, Progress *progress,
           GError **error)
{
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) own = solid_mesh_transformed(mesh, same, vec3(0, 0, 0));
    g_autofree guint8 *marks = g_memdup2(upright, mesh->n_triangles);
    g_autofree guint8 *dead = g_new0(guint8, mesh->n_triangles + 1);
    g_autofree Quadric *quadric = g_new0(Quadric, mesh->n_vertices + 1);
    g_autofree guint32 *first = g_new(guint32, mesh->n_vertices + 1);
    g_autofree guint32 *next = g_new(guint32, 3 * (gsize)mesh->n_triangles + 1);
    Thin thin = {own, marks, dead, quadric, first, next, vec3(0, 0, 0), tolerance};
    if (mesh->n_vertices > 0)
        thin.middle = mesh->vertices[0];
    start(&thin);
    double limit = tolerance * tolerance;
    for (int round = 0; round < 3 * ROUNDS; round++) {
        double now = limit * pow(0.1, MAX(0, ROUNDS - 1 - round / 2));
        guint32 done = 0;
        for (guint32 v = 0; v < mesh->n_vertices; v++) {
            if (v % 4096 == 0 && !progress_check(progress, error))
                return NULL;
            if (first[v] != NONE)
                done += try_vertex(&thin, v, now);
        }
        if (done == 0 && now == limit)
            break;
    }
    return gather(&thin);
}
