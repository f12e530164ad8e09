// SPDX-License-Identifier: GPL-3.0-or-later
// Integrals over the inside of a mesh, as a sum over the signed tetrahedra between the middle of
// the box and each triangle. With s = a + b + c and d = a . (b x c) a tetrahedron with one corner
// at the origin has volume d / 6, first moment d s / 24 and second moments d (s_i s_j + a_i a_j +
// b_i b_j + c_i c_j) / 120 (exact integrals of a linear simplex).
#include "solid/measure.h"

#include "solid/inertia.h"

#define CHUNK 4096 // triangles summed on their own first, which keeps rounding small

typedef struct {
    double volume;    // 6 times
    double area;      // 2 times
    Vec3 first;       // 24 times
    double second[6]; // 120 times; xx, yy, zz, xy, xz, yz
} Sums;

static void
find_box(const SolidMesh *mesh, SolidMeasure *out)
{
    if (mesh->n_vertices == 0)
        return;
    Vec3 low = mesh->vertices[0], high = low;
    for (guint32 i = 1; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        low.x = v.x < low.x ? v.x : low.x;
        low.y = v.y < low.y ? v.y : low.y;
        low.z = v.z < low.z ? v.z : low.z;
        high.x = v.x > high.x ? v.x : high.x;
        high.y = v.y > high.y ? v.y : high.y;
        high.z = v.z > high.z ? v.z : high.z;
    }
    out->min = low;
    out->max = high;
}

static void
add_triangle(Sums *sums, Vec3 a, Vec3 b, Vec3 c)
{
    double d = vec3_dot(a, vec3_cross(b, c));
    Vec3 s = vec3_add(a, vec3_add(b, c));
    sums->volume += d;
    sums->area += vec3_length(vec3_cross(vec3_sub(b, a), vec3_sub(c, a)));
    sums->first = vec3_add(sums->first, vec3_scale(s, d));
    sums->second[0] += d * (s.x * s.x + a.x * a.x + b.x * b.x + c.x * c.x);
    sums->second[1] += d * (s.y * s.y + a.y * a.y + b.y * b.y + c.y * c.y);
    sums->second[2] += d * (s.z * s.z + a.z * a.z + b.z * b.z + c.z * c.z);
    sums->second[3] += d * (s.x * s.y + a.x * a.y + b.x * b.y + c.x * c.y);
    sums->second[4] += d * (s.x * s.z + a.x * a.z + b.x * b.z + c.x * c.z);
    sums->second[5] += d * (s.y * s.z + a.y * a.z + b.y * b.z + c.y * c.z);
}

static void
add_sums(Sums *sums, const Sums *more)
{
    sums->volume += more->volume;
    sums->area += more->area;
    sums->first = vec3_add(sums->first, more->first);
    for (int i = 0; i < 6; i++)
        sums->second[i] += more->second[i];
}

static Sums
sum_triangles(const SolidMesh *mesh, Vec3 middle)
{
    Sums sums = {0};
    for (guint32 from = 0; from < mesh->n_triangles; from += CHUNK) {
        guint32 to = MIN(from + CHUNK, mesh->n_triangles);
        Sums chunk = {0};
        for (guint32 i = from; i < to; i++) {
            const guint32 *t = mesh->triangles[i];
            add_triangle(&chunk, vec3_sub(mesh->vertices[t[0]], middle),
                         vec3_sub(mesh->vertices[t[1]], middle),
                         vec3_sub(mesh->vertices[t[2]], middle));
        }
        add_sums(&sums, &chunk);
    }
    return sums;
}

// Second moments about the middle, moved to the centroid (parallel axes), then inertia: what lies
// off the diagonal changes sign, what lies on it is the sum of the two others.
static void
find_moments(const Sums *sums, Vec3 c, SolidMeasure *out)
{
    double v = out->volume, sign = v < 0 ? -1 : 1;
    double xx = sums->second[0] / 120 - v * c.x * c.x;
    double yy = sums->second[1] / 120 - v * c.y * c.y;
    double zz = sums->second[2] / 120 - v * c.z * c.z;
    double xy = sums->second[3] / 120 - v * c.x * c.y;
    double xz = sums->second[4] / 120 - v * c.x * c.z;
    double yz = sums->second[5] / 120 - v * c.y * c.z;
    double matrix[3][3] = {{sign * (yy + zz), -sign * xy, -sign * xz},
                           {-sign * xy, sign * (xx + zz), -sign * yz},
                           {-sign * xz, -sign * yz, sign * (xx + yy)}};
    solid_principal_axes(matrix, out->moments, out->axes);
}

SolidMeasure
solid_measure(const SolidMesh *mesh)
{
    SolidMeasure out = {.axes = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
    g_return_val_if_fail(mesh != NULL, out);
    find_box(mesh, &out);
    Vec3 middle = vec3_scale(vec3_add(out.min, out.max), 0.5), size = vec3_sub(out.max, out.min);
    Sums sums = sum_triangles(mesh, middle);
    out.volume = sums.volume / 6;
    out.area = sums.area / 2;
    out.centroid = middle;
    // A flat or open skin may enclose nothing: then there is no centroid better than the box's.
    double box = vec3_length(size);
    if (!(fabs(out.volume) > 1e-12 * box * box * box))
        return out;
    Vec3 shift = vec3_scale(sums.first, 1 / (4 * sums.volume));
    out.centroid = vec3_add(middle, shift);
    find_moments(&sums, shift, &out);
    return out;
}
