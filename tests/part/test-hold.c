// SPDX-License-Identifier: GPL-3.0-or-later
// A surface that misses a part's vertices is pushed out to hold them, and an overhang that the
// draft forbids is filled, on bodies whose answer is known by hand.
#include <string.h>

#include "check.h"
#include "part/hold.h"
#include "part/overhang.h"
#include "solid/check.h"
#include "solid/measure.h"

#define MM 1e-3

// A box whose one corner is cut short: the corner comes back, nothing else moves.
static void
test_corner(void)
{
    double cell = 1.1 * MM;
    g_autoptr(SolidMesh) part = check_mesh_box(21.3 * MM, 17.7 * MM, 9.1 * MM);
    g_autoptr(SolidMesh) casting = check_mesh_box(21.3 * MM, 17.7 * MM, 9.1 * MM);
    Vec3 was = casting->vertices[5];
    Vec3 middle = vec3(10.65 * MM, 8.85 * MM, 4.55 * MM);
    Vec3 way = vec3_unit(vec3_sub(middle, was));
    casting->vertices[5] = vec3_add(was, vec3_scale(way, 0.6 * cell));
    g_assert_true(hold_vertices(casting, part, 0, cell, NULL, NULL));
    g_assert_cmpfloat(vec3_length(vec3_sub(casting->vertices[5], was)), <, 0.05 * cell);
    for (guint32 v = 0; v < part->n_vertices; v++)
        if (v != 5)
            g_assert_cmpfloat(vec3_length(vec3_sub(casting->vertices[v], part->vertices[v])), <,
                              0.05 * cell);
    g_assert_true(solid_check(casting).closed);
}

// With an allowance of 2 mm, a casting that has 1.4 mm is pushed out; what lacks more than a cell
// is not a matter of the cells and stays.
static void
test_allowance(void)
{
    g_autoptr(SolidMesh) part = check_mesh_box(21.3 * MM, 17.7 * MM, 9.1 * MM);
    for (int far = 0; far < 2; far++) {
        double has = far ? 0.4 * MM : 1.4 * MM;
        g_autoptr(SolidMesh) casting = check_mesh_box(21.3 * MM + 2 * has, 17.7 * MM + 2 * has,
                                                      9.1 * MM + 2 * has);
        for (guint32 v = 0; v < casting->n_vertices; v++)
            casting->vertices[v] = vec3_sub(casting->vertices[v], vec3(has, has, has));
        double before = solid_measure(casting).volume;
        g_assert_true(hold_vertices(casting, part, 2 * MM, 1.1 * MM, NULL, NULL));
        double after = solid_measure(casting).volume;
        if (far)
            check_close(after, before, 1e-12, "nothing is done");
        else
            g_assert_cmpfloat(after, >, 1.02 * before);
    }
}

// A tower of two frustums with a lip at its waist, drawn upwards: the wall below the lip comes out
// to it.
static void
test_lip(void)
{
    double cell = 1 * MM, wide = 10.4 * MM, low = 10 * MM;
    enum {
        SIDES = 24,
        RINGS = 13
    };
    g_autoptr(SolidMesh) mesh = solid_mesh_new(SIDES * RINGS + 2, 2 * SIDES * RINGS);
    for (int ring = 0; ring < RINGS; ring++)
        for (int s = 0; s < SIDES; s++) {
            double a = 2 * G_PI * s / SIDES, r = ring == 8 ? wide : low;
            mesh->vertices[ring * SIDES + s] = vec3(r * cos(a), r * sin(a), ring * cell);
        }
    guint32 n = 0, foot = SIDES * RINGS, head = foot + 1;
    mesh->vertices[head].z = (RINGS - 1) * cell;
    for (guint32 s = 0; s < SIDES; s++) {
        guint32 t = (s + 1) % SIDES;
        for (guint32 ring = 0; ring + 1 < RINGS; ring++) {
            guint32 a = ring * SIDES + s, b = ring * SIDES + t, c = b + SIDES, d = a + SIDES;
            const guint32 two[2][3] = {{a, b, c}, {a, c, d}};
            memcpy(mesh->triangles[n], two, sizeof two);
            n += 2;
        }
        const guint32 ends[2][3] = {{foot, t, s},
                                    {head, (RINGS - 1) * SIDES + s, (RINGS - 1) * SIDES + t}};
        memcpy(mesh->triangles[n], ends, sizeof ends);
        n += 2;
    }
    g_assert_true(solid_check(mesh).closed);
    g_assert_true(overhang_fill(mesh, 0, 0, cell, NULL, NULL));
    for (guint32 v = 0; v < SIDES * RINGS; v++) {
        Vec3 p = mesh->vertices[v];
        double r = hypot(p.x, p.y);
        if (p.z > 0.9 * cell && p.z < 8.1 * cell)
            g_assert_cmpfloat(r, >, wide - 0.12 * cell);
        else if (p.z > 8.5 * cell)
            check_close(r, low, 1e-9, "above the lip nothing moves");
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/hold/corner", test_corner);
    g_test_add_func("/hold/allowance", test_allowance);
    g_test_add_func("/hold/lip", test_lip);
    return g_test_run();
}
