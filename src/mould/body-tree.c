// SPDX-License-Identifier: GPL-3.0-or-later
// Points over a skin, and the tree of balls round them.
#include "mould/body-tree.h"

#include <math.h>

#define LEAF 6
#define MOST_POINTS 400000.0

// Into how many steps a triangle's sides are cut.
static guint
count_steps(const Vec3 v[3], double spacing)
{
    double a = vec3_length(vec3_sub(v[1], v[0])), b = vec3_length(vec3_sub(v[2], v[1]));
    double c = vec3_length(vec3_sub(v[0], v[2]));
    return (guint)CLAMP(ceil(fmax(a, fmax(b, c)) / spacing), 1, 1000);
}

static void
get_corners(const SolidMesh *mesh, guint t, Vec3 v[3])
{
    for (int i = 0; i < 3; i++)
        v[i] = mesh->vertices[mesh->triangles[t][i]];
}

static double
count_all(const SolidMesh *mesh, double spacing)
{
    double sum = mesh->n_vertices;
    for (guint t = 0; t < mesh->n_triangles; t++) {
        Vec3 v[3];
        get_corners(mesh, t, v);
        double m = count_steps(v, spacing);
        sum += (m + 1) * (m + 2) / 2 - 3;
    }
    return sum;
}

Vec3 *
mould_body_points(const SolidMesh *mesh, double spacing, guint *n_points)
{
    for (int i = 0; i < 40 && count_all(mesh, spacing) > MOST_POINTS + mesh->n_vertices; i++)
        spacing *= 1.5;
    g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(Vec3));
    g_array_append_vals(points, mesh->vertices, mesh->n_vertices);
    for (guint t = 0; t < mesh->n_triangles; t++) {
        Vec3 v[3];
        get_corners(mesh, t, v);
        guint m = count_steps(v, spacing);
        for (guint i = 0; m > 1 && i <= m; i++)
            for (guint j = 0; i + j <= m; j++) {
                if (i == m || j == m || i + j == 0)
                    continue; // a corner, which is there already
                Vec3 p = vec3_scale(v[0], (double)(m - i - j) / m);
                p = vec3_add(p, vec3_scale(v[1], (double)i / m));
                p = vec3_add(p, vec3_scale(v[2], (double)j / m));
                g_array_append_val(points, p);
            }
    }
    *n_points = points->len;
    return (Vec3 *)g_array_free(g_steal_pointer(&points), FALSE);
}

static double
coordinate(const Vec3 *p, int axis)
{
    return axis == 0 ? p->x : axis == 1 ? p->y : p->z;
}

// Moves the half with the smaller coordinates to the front (Hoare's selection).
static void
select_half(Vec3 *p, guint n, guint half, int axis)
{
    guint low = 0, high = n - 1;
    while (low < high) {
        double pivot = coordinate(&p[low + (high - low) / 2], axis);
        guint i = low, j = high;
        for (;;) {
            while (coordinate(&p[i], axis) < pivot)
                i++;
            while (coordinate(&p[j], axis) > pivot)
                j--;
            if (i >= j)
                break;
            Vec3 swap = p[i];
            p[i++] = p[j];
            p[j--] = swap;
        }
        if (half <= j)
            high = j;
        else
            low = j + 1;
    }
}

static guint
build_ball(GArray *balls, Vec3 *points, guint first, guint n)
{
    Vec3 low = points[first], high = low;
    for (guint i = first + 1; i < first + n; i++) {
        Vec3 p = points[i];
        low = vec3(fmin(low.x, p.x), fmin(low.y, p.y), fmin(low.z, p.z));
        high = vec3(fmax(high.x, p.x), fmax(high.y, p.y), fmax(high.z, p.z));
    }
    MouldBall ball = {.middle = vec3_scale(vec3_add(low, high), 0.5), .first = first, .n = n};
    for (guint i = first; i < first + n; i++)
        ball.radius = fmax(ball.radius, vec3_length(vec3_sub(points[i], ball.middle)));
    guint index = balls->len;
    g_array_append_val(balls, ball);
    if (n <= LEAF)
        return index;
    Vec3 size = vec3_sub(high, low);
    int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    select_half(points + first, n, n / 2, axis);
    build_ball(balls, points, first, n / 2);
    guint right = build_ball(balls, points, first + n / 2, n - n / 2);
    g_array_index(balls, MouldBall, index).right = right;
    return index;
}

MouldBall *
mould_body_tree(Vec3 *points, guint n_points, guint *n_balls)
{
    g_autoptr(GArray) balls = g_array_new(FALSE, FALSE, sizeof(MouldBall));
    build_ball(balls, points, 0, n_points);
    *n_balls = balls->len;
    return (MouldBall *)g_array_free(g_steal_pointer(&balls), FALSE);
}
