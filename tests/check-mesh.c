// SPDX-License-Identifier: GPL-3.0-or-later
// Solids made by code: box, cylinder, frustum, sphere, torus, plate with a blind hole.
#include "check.h"

#include <string.h>

typedef struct {
    GArray *vertices;  // Vec3
    GArray *triangles; // guint32[3]
} Maker;

static void
maker_init(Maker *maker)
{
    maker->vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    maker->triangles = g_array_new(FALSE, FALSE, 3 * sizeof(guint32));
}

static guint32
add_vertex(Maker *maker, double x, double y, double z)
{
    Vec3 v = vec3(x, y, z);
    g_array_append_val(maker->vertices, v);
    return maker->vertices->len - 1;
}

static void
add_triangle(Maker *maker, guint32 a, guint32 b, guint32 c)
{
    guint32 t[3] = {a, b, c};
    g_array_append_vals(maker->triangles, t, 1);
}

static void
add_quad(Maker *maker, guint32 a, guint32 b, guint32 c, guint32 d)
{
    add_triangle(maker, a, b, c);
    add_triangle(maker, a, c, d);
}

static SolidMesh *
maker_end(Maker *maker)
{
    SolidMesh *mesh = solid_mesh_new(maker->vertices->len, maker->triangles->len);
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        mesh->vertices[i] = g_array_index(maker->vertices, Vec3, i);
    memcpy(mesh->triangles, maker->triangles->data,
           (gsize)mesh->n_triangles * sizeof *mesh->triangles);
    g_array_unref(maker->vertices);
    g_array_unref(maker->triangles);
    return mesh;
}

SolidMesh *
check_mesh_box(double x, double y, double z)
{
    Maker m;
    maker_init(&m);
    for (int i = 0; i < 8; i++)
        add_vertex(&m, i & 1 ? x : 0, i & 2 ? y : 0, i & 4 ? z : 0);
    add_quad(&m, 0, 2, 3, 1);
    add_quad(&m, 4, 5, 7, 6);
    add_quad(&m, 0, 1, 5, 4);
    add_quad(&m, 2, 6, 7, 3);
    add_quad(&m, 0, 4, 6, 2);
    add_quad(&m, 1, 3, 7, 5);
    return maker_end(&m);
}

// A ring of vertices at height z; returns the first index.
static guint32
add_ring(Maker *m, double radius, double z, int sides)
{
    guint32 first = m->vertices->len;
    for (int i = 0; i < sides; i++) {
        double a = 2 * G_PI * i / sides;
        add_vertex(m, radius * cos(a), radius * sin(a), z);
    }
    return first;
}

// The wall between two rings of equal sides; outward when `upper` is higher and outside.
static void
add_wall(Maker *m, guint32 lower, guint32 upper, int sides)
{
    for (int i = 0; i < sides; i++) {
        guint32 j = (guint32)((i + 1) % sides);
        add_quad(m, lower + (guint32)i, lower + j, upper + j, upper + (guint32)i);
    }
}

static void
add_cap(Maker *m, guint32 ring, double z, int sides, gboolean up)
{
    guint32 middle = add_vertex(m, 0, 0, z);
    for (int i = 0; i < sides; i++) {
        guint32 a = ring + (guint32)i, b = ring + (guint32)((i + 1) % sides);
        if (up)
            add_triangle(m, middle, a, b);
        else
            add_triangle(m, middle, b, a);
    }
}

SolidMesh *
check_mesh_frustum(double radius_base, double radius_top, double height, int sides)
{
    Maker m;
    maker_init(&m);
    guint32 low = add_ring(&m, radius_base, 0, sides);
    guint32 high = add_ring(&m, radius_top, height, sides);
    add_wall(&m, low, high, sides);
    add_cap(&m, low, 0, sides, FALSE);
    add_cap(&m, high, height, sides, TRUE);
    return maker_end(&m);
}

SolidMesh *
check_mesh_cylinder(double radius, double height, int sides)
{
    return check_mesh_frustum(radius, radius, height, sides);
}

SolidMesh *
check_mesh_sphere(double radius, int rings, int sides)
{
    Maker m;
    maker_init(&m);
    guint32 previous = 0;
    for (int r = 1; r < rings; r++) {
        double a = G_PI * r / rings - G_PI / 2;
        guint32 ring = add_ring(&m, radius * cos(a), radius * sin(a), sides);
        if (r == 1)
            add_cap(&m, ring, -radius, sides, FALSE);
        else
            add_wall(&m, previous, ring, sides);
        previous = ring;
    }
    add_cap(&m, previous, radius, sides, TRUE);
    return maker_end(&m);
}

SolidMesh *
check_mesh_torus(double major, double minor, int around, int sides)
{
    Maker m;
    maker_init(&m);
    for (int i = 0; i < around; i++) {
        double a = 2 * G_PI * i / around;
        for (int j = 0; j < sides; j++) {
            double b = 2 * G_PI * j / sides;
            double r = major + minor * cos(b);
            add_vertex(&m, r * cos(a), r * sin(a), minor * sin(b));
        }
    }
    for (int i = 0; i < around; i++)
        for (int j = 0; j < sides; j++) {
            int i2 = (i + 1) % around, j2 = (j + 1) % sides;
            add_quad(&m, (guint32)(i * sides + j), (guint32)(i2 * sides + j),
                     (guint32)(i2 * sides + j2), (guint32)(i * sides + j2));
        }
    return maker_end(&m);
}

// Ring of `sides` points on the edge of a rectangle centred on the axis, at the same angles as the
// round ring, so that both can be joined one to one. sides is a multiple of 8.
static guint32
add_square_ring(Maker *m, double half_x, double half_y, double z, int sides)
{
    guint32 first = m->vertices->len;
    for (int i = 0; i < sides; i++) {
        double a = 2 * G_PI * i / sides, c = cos(a), s = sin(a);
        double t = 1 / fmax(fabs(c), fabs(s));
        add_vertex(m, half_x * c * t, half_y * s * t, z);
    }
    return first;
}

SolidMesh *
check_mesh_blind_plate(double x, double y, double z, double hole_radius, double hole_depth,
                       int sides)
{
    g_assert_cmpint(sides % 8, ==, 0);
    Maker m;
    maker_init(&m);
    guint32 low = add_square_ring(&m, x / 2, y / 2, 0, sides);
    guint32 high = add_square_ring(&m, x / 2, y / 2, z, sides);
    guint32 mouth = add_ring(&m, hole_radius, z, sides);
    guint32 floor = add_ring(&m, hole_radius, z - hole_depth, sides);
    add_wall(&m, low, high, sides);
    add_wall(&m, high, mouth, sides);
    add_wall(&m, mouth, floor, sides);
    add_cap(&m, low, 0, sides, FALSE);
    add_cap(&m, floor, z - hole_depth, sides, TRUE);
    return maker_end(&m);
}

SolidMesh *
check_mesh_turned(const SolidMesh *mesh)
{
    double a = 0.7321, b = -0.4177, c = 1.2345;
    double ca = cos(a), sa = sin(a), cb = cos(b), sb = sin(b), cc = cos(c), sc = sin(c);
    double r[9] = {ca * cb,
                   ca * sb * sc - sa * cc,
                   ca * sb * cc + sa * sc,
                   sa * cb,
                   sa * sb * sc + ca * cc,
                   sa * sb * cc - ca * sc,
                   -sb,
                   cb * sc,
                   cb * cc};
    return solid_mesh_transformed(mesh, r, vec3(0.0131, -0.0273, 0.0057));
}
