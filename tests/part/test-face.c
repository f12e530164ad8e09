// SPDX-License-Identifier: GPL-3.0-or-later
// Draft and undercut on faces: frustum, clevis, overhang, an ear in another's shadow.
#include "part/face.h"

#include "check.h"
#include "shapes.h"

#ifdef _OPENMP
#include <omp.h>
#endif

#define MM 1e-3
#define DEG (G_PI / 180)

static FaceDraft
look_at(const SolidMesh *mesh, Vec3 pull, double parting, double wanted)
{
    FaceDraft f;
    g_autoptr(GError) error = NULL;
    g_assert_true(face_draft(mesh, NULL, pull, parting, wanted, &f, NULL, &error));
    g_assert_no_error(error);
    g_assert_cmpuint(f.n, ==, mesh->n_triangles);
    return f;
}

// The side of a frustum has the angle of its cone.
static void
test_frustum(void)
{
    double r1 = 22.3 * MM, r2 = 19.1 * MM, h = 31.7 * MM, angle = atan((r1 - r2) / h);
    g_autoptr(SolidMesh) mesh = check_mesh_frustum(r1, r2, h, 256);
    double side = G_PI * (r1 + r2) * hypot(h, r1 - r2);
    FaceDraft f = look_at(mesh, vec3(0, 0, 1), 0, angle + 1 * DEG);
    check_close(f.hidden_area, 0, 1e-12, "it draws");
    check_close(f.low_area, side, 0.002, "cone");
    double least = INFINITY;
    for (guint32 t = 0; t < f.n; t++)
        least = fmin(least, (double)f.draft[t]);
    check_close(least, angle, 0.01, "cone");
    face_draft_clear(&f);
    FaceDraft enough = look_at(mesh, vec3(0, 0, 1), 0, angle - 1 * DEG);
    check_close(enough.low_area, 0, 1e-12, "enough draft");
    face_draft_clear(&enough);
    FaceDraft over = look_at(mesh, vec3(0, 0, -1), 0, 1 * DEG);
    check_close(over.hidden_area, 0, 1e-12,
                "the other way, parted at the wide end, all in the drag");
    face_draft_clear(&over);
    FaceDraft under = look_at(mesh, vec3(0, 0, 1), h, 1 * DEG);
    check_close(under.hidden_area, side, 0.01, "parted at the narrow end the side leans over");
    face_draft_clear(&under);
}

// The walls of a cross hole are hidden whether they look up or down.
static void
test_hole(void)
{
    ShapeClevis c = {.ear = 9.3 * MM,
                     .gap = 17.9 * MM,
                     .y = 41.7 * MM,
                     .z = 33.1 * MM,
                     .base = 11.3 * MM,
                     .sunk = 1.9 * MM,
                     .hole = 6.7 * MM};
    g_autoptr(SolidMesh) mesh = shape_clevis(&c, 128);
    FaceDraft f = look_at(mesh, vec3(0, 0, 1), 0, 0);
    // The ears' feet lie inside the base: hidden too, by the shell they are sunk in.
    double sunk = 2 * (c.ear * c.y + 2 * (c.ear + c.y) * c.sunk);
    double holes = 2 * G_PI * 2 * c.hole * c.ear, beneath = 2 * c.ear * c.y;
    g_assert_cmpfloat(f.hidden_area, >, 0.97 * holes);
    g_assert_cmpfloat(f.hidden_area, <, holes + sunk + beneath);
    guint32 hole_triangles = 0;
    for (guint32 t = 0; t < f.n; t++) {
        const guint32 *k = mesh->triangles[t];
        gboolean on_hole = TRUE;
        for (int i = 0; i < 3; i++) {
            Vec3 v = mesh->vertices[k[i]];
            on_hole = on_hole && fabs(hypot(v.y, v.z - c.z / 2) - c.hole) < 1e-9;
        }
        if (!on_hole)
            continue;
        hole_triangles++;
        g_assert_cmpuint(f.hidden[t], ==, 1);
        g_assert_cmpuint(f.low[t], ==, 0);
    }
    g_assert_cmpuint(hole_triangles, ==, 4 * 128);
    face_draft_clear(&f);
}

// Faces that look up and still cannot draw, since an arm hangs over them: seen only by occlusion.
static void
test_overhang(void)
{
    double x = 47.3 * MM, z = 39.1 * MM, t = 8.9 * MM, y = 27.7 * MM;
    g_autoptr(SolidMesh) bracket = shape_bracket(x, z, t, y);
    double rotation[9];
    g_autoptr(SolidMesh)
                  mesh = shape_rotated(bracket, vec3(0, 1, 0), G_PI / 2, vec3(0, 0, 0), rotation);
    // Now the leg of length x hangs down and the one of length z lies on top, along +x.
    FaceDraft f = look_at(mesh, vec3(0, 0, 1), -x, 0);
    check_close(f.hidden_area, (z - t + x - t) * y, 0.01,
                "the underside of the arm and the wall beneath it");
    face_draft_clear(&f);
    FaceDraft part = look_at(mesh, vec3(0, 0, 1), 0, 0);
    check_close(part.hidden_area, 0, 1e-12, "parted at the arm's top");
    face_draft_clear(&part);
}

static void
test_threads_and_stop(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_torus(21 * MM, 6 * MM, 96, 48);
    FaceDraft kept = {.n = 5};
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
#ifdef _OPENMP
    omp_set_num_threads(1);
#endif
    FaceDraft a = look_at(mesh, vec3(1, 0, 0), 0, 2 * DEG);
#ifdef _OPENMP
    omp_set_num_threads(3);
#endif
    FaceDraft b = look_at(mesh, vec3(1, 0, 0), 0, 2 * DEG);
    g_assert_cmpfloat(a.hidden_area, ==, b.hidden_area);
    g_assert_cmpfloat(a.hidden_area, >, 0);
    g_assert_cmpmem(a.hidden, a.n, b.hidden, b.n);
    face_draft_clear(&a);
    face_draft_clear(&b);
    progress_stop(progress);
    g_assert_false(face_draft(mesh, NULL, vec3(0, 0, 1), 0, 0, &kept, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    g_assert_cmpuint(kept.n, ==, 5);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/face/frustum", test_frustum);
    g_test_add_func("/part/face/hole", test_hole);
    g_test_add_func("/part/face/overhang", test_overhang);
    g_test_add_func("/part/face/threads-and-stop", test_threads_and_stop);
    return g_test_run();
}
