// SPDX-License-Identifier: GPL-3.0-or-later
// The drawable envelope against closed forms: frustums, ball, plates with holes, grown boxes.
#include "check.h"
#include "part/envelope.h"
#include "part/planar.h"

#ifdef _OPENMP
#include <omp.h>
#endif

#define MM 1e-3
#define DEG (G_PI / 180)

// Envelope of a mesh with `cells` along its longest side.
static EnvelopeResult
make_envelope(const SolidMesh *mesh, EnvelopeOptions o, int cells, double parting)
{
    Vec3 low = mesh->vertices[0], high = low;
    for (guint32 i = 1; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        low = vec3(fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z));
        high = vec3(fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z));
    }
    Vec3 size = vec3_sub(high, low);
    double cell = fmax(size.x, fmax(size.y, size.z)) / cells;
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) part = solid_grid_distance(mesh, cell, o.allowance + 3 * cell,
                                                    o.allowance + 3 * cell, NULL, &error);
    g_assert_no_error(error);
    EnvelopeResult r;
    gboolean made = envelope_make(part, &o, parting, &r, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(made);
    return r;
}

static double
measure_frustum(double r1, double r2, double h)
{
    return G_PI * h * (r1 * r1 + r1 * r2 + r2 * r2) / 3;
}

static void
test_planar(void)
{
    enum {
        N = 90
    };
    g_autofree float *value = g_new(float, N *N);
    g_autofree float *out = g_new(float, N *N);
    double cell = 0.7 * MM, r = 17.77 * MM, x0 = 31.13 * MM, y0 = 30.71 * MM, worst = 0;
    for (int j = 0; j < N; j++)
        for (int i = 0; i < N; i++)
            value[j * N + i] = (float)((hypot(i * cell - x0, j * cell - y0) - r) *
                                       (1.5 + 0.3 * sin(0.1 * i))); // same line, other values
    g_autoptr(PlanarWork) work = planar_work_new(N, N);
    planar_distance(value, N, N, cell, 1, out, work);
    for (int j = 0; j < N; j++)
        for (int i = 0; i < N; i++)
            worst = fmax(worst, fabs(out[j * N + i] - (hypot(i * cell - x0, j * cell - y0) - r)));
    check_close(worst, 0, 0.06 * cell, "distance to a circle");
    for (int n = 0; n < N * N; n++)
        value[n] = 1;
    planar_distance(value, N, N, cell, 0.123, out, work);
    check_close(out[N], 0.123, 1e-6, "nothing there");
    value[N] = -1;
    for (int n = 0; n < N * N; n++)
        value[n] = -1;
    planar_distance(value, N, N, cell, 0.123, out, work);
    check_close(out[N], -0.123, 1e-6, "all metal");
}

// A cylinder drafted from one end, and parted in its middle.
static void
test_cylinder(void)
{
    double r = 17.3 * MM, h = 38.9 * MM, t = tan(3 * DEG);
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(r, h, 256);
    EnvelopeOptions o = {.draft = 3 * DEG, .quick = TRUE};
    EnvelopeResult one = make_envelope(mesh, o, 96, 0.0);
    check_close(one.volume, measure_frustum(r + h * t, r, h), 0.002, "frustum");
    check_close(one.area,
                G_PI * (r * r + pow(r + h * t, 2) + (2 * r + h * t) * h * sqrt(1 + t * t)), 0.01,
                "frustum");
    check_close(one.undercut_volume, 0, 1e-4 * one.volume, "a cylinder draws");
    check_close(one.allowance_volume, 0, 1e-15, "none asked");
    check_close(one.depth_cope, h, 1e-6, "all in the cope");
    check_close(one.depth_drag, 0, 1e-9, "all in the cope");
    EnvelopeResult best = make_envelope(mesh, o, 96, NAN);
    check_close(best.parting, h / 2, 0.005, "two equal halves take least");
    check_close(best.volume, 2 * measure_frustum(r + h / 2 * t, r, h / 2), 0.002, "two frustums");
    check_close(best.draft_volume, best.volume - G_PI * r * r * h, 0.03, "what draft adds");
    envelope_result_clear(&one);
    envelope_result_clear(&best);
}

// Growing coarser by two costs at most four times the error.
static void
test_converges(void)
{
    double r = 17.3 * MM, h = 38.9 * MM, t = tan(3 * DEG);
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(r, h, 256);
    double expected = measure_frustum(r + h * t, r, h), bound[2] = {0.004, 0.0015};
    for (int n = 0; n < 2; n++) {
        EnvelopeOptions o = {.draft = 3 * DEG, .quick = TRUE};
        EnvelopeResult e = make_envelope(mesh, o, 48 * (n + 1), 0.0);
        check_close(e.volume, expected, bound[n], "frustum");
        g_assert_null(e.casting);
        envelope_result_clear(&e);
    }
}

// Upside down, all in the drag, costs the same.
static void
test_drag(void)
{
    double r1 = 21.7 * MM, r2 = 12.1 * MM, h = 26.3 * MM, t = tan(5 * DEG);
    g_autoptr(SolidMesh) cone = check_mesh_frustum(r2, r1, h, 256); // wide end up
    EnvelopeOptions o = {.draft = 5 * DEG, .quick = TRUE};
    EnvelopeResult e = make_envelope(cone, o, 96, NAN);
    check_close(e.parting, h, 0.002, "at the wide end");
    check_close(e.volume, measure_frustum(r1, r2, h), 0.003, "it has more taper than asked");
    check_close(e.draft_volume, 0, 2e-4 * e.volume, "it has more taper than asked");
    check_close(e.undercut_volume, 0, 2e-4 * e.volume, "it has more taper than asked");
    envelope_result_clear(&e);
    // Parted at the narrow end all of it must be filled out to the wide end, and on.
    EnvelopeResult w = make_envelope(cone, o, 96, 0.0);
    check_close(w.undercut_volume, G_PI * r1 * r1 * h - measure_frustum(r1, r2, h), 0.006,
                "cylinder less frustum");
    check_close(w.volume, measure_frustum(r1 + h * t, r1, h), 0.003, "frustum");
    envelope_result_clear(&w);
}

// A ball parted at its equator: the taper leaves the ball at the latitude where the ball's own
// slope equals it and runs straight from there.
static void
test_sphere(void)
{
    double r = 20 * MM, a = 6 * DEG, s = sin(a), c = cos(a), cap = r * (1 - s);
    g_autoptr(SolidMesh) mesh = check_mesh_sphere(r, 128, 256);
    EnvelopeResult e = make_envelope(mesh, (EnvelopeOptions){.quick = TRUE, .draft = a}, 96, NAN);
    check_close(e.parting, 0, 0.02 * r, "equator");
    check_close(e.undercut_volume, 0, 2e-4 * e.volume, "a ball draws from its equator");
    double half = G_PI * cap * cap * (3 * r - cap) / 3 + measure_frustum(r / c, r * c, r * s);
    check_close(e.volume, 2 * half, 0.003, "cap and tangent cone");
    envelope_result_clear(&e);
}

// A blind hole opening upwards, plate in the cope: the hole narrows towards the parting.
static void
test_hole(void)
{
    double x = 50 * MM, y = 44 * MM, z = 18.5 * MM, r = 9.3 * MM, deep = 13.1 * MM,
           t = tan(4 * DEG);
    g_autoptr(SolidMesh) up = check_mesh_blind_plate(x, y, z, r, deep, 128);
    EnvelopeResult e = make_envelope(up, (EnvelopeOptions){.quick = TRUE, .draft = 4 * DEG}, 96,
                                     0.0);
    check_close(e.undercut_volume, 0, 1e-4 * e.volume, "the hole opens along the pull");
    // Outside: a straight-sided rectangle grown by z tan with round corners (Steiner).
    double w = z * t, outer = x * y * z + (x + y) * z * w + G_PI * w * w * z / 3;
    double hole = measure_frustum(r, r - deep * t, deep);
    check_close(e.volume, outer - hole, 0.004, "grown plate less tapered hole");
    envelope_result_clear(&e);
    // Turned over: the hole cannot be drawn from the cope; a cope parted at the mouth fills it.
    double half_turn[9] = {1, 0, 0, 0, -1, 0, 0, 0, -1};
    g_autoptr(SolidMesh) down = solid_mesh_transformed(up, half_turn, vec3(0, 0, z));
    EnvelopeResult f = make_envelope(down, (EnvelopeOptions){.quick = TRUE, .draft = 0}, 96, 0.0);
    check_close(f.undercut_volume, G_PI * r * r * deep, 0.02, "the hole fills up");
    envelope_result_clear(&f);
    // Left to choose, the hole is drawn from whichever side it opens to.
    EnvelopeResult g = make_envelope(down, (EnvelopeOptions){.quick = TRUE, .draft = 4 * DEG}, 96,
                                     NAN);
    g_assert_cmpfloat(g.undercut_volume, <, 0.01 * G_PI * r * r * deep);
    envelope_result_clear(&g);
}

// A hole across the pull is filled whole or, parted through its middle, drawn by halves.
static void
test_cross_hole(void)
{
    double half_x = 20 * MM, deep = 14.7 * MM, r = 6.2 * MM;
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(2 * half_x, 31 * MM, 22 * MM, r, deep, 128);
    double quarter[9] = {1, 0, 0, 0, 0, -1, 0, 1, 0}; // the hole's axis along -y
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(plate, quarter, vec3(0, 0, 0));
    EnvelopeResult low = make_envelope(mesh, (EnvelopeOptions){.quick = TRUE, .draft = 0}, 96,
                                       -15.5 * MM);
    check_close(low.undercut_volume, G_PI * r * r * deep, 0.02, "the whole hole");
    envelope_result_clear(&low);
    EnvelopeResult best = make_envelope(mesh, (EnvelopeOptions){.quick = TRUE, .draft = 0}, 96,
                                        NAN);
    check_close(best.parting, 0, 0.02 * r, "through the middle of the hole, or as good");
    check_close(best.undercut_volume, G_PI * r * r * deep, 0.02,
                "metal beside the hole meets above");
    envelope_result_clear(&best);
}

// Steiner: a box grown by a has V + A a + (sum of edges) pi a2 / 4 + 4/3 pi a3.
static void
test_allowance(void)
{
    double x = 41.3 * MM, y = 23.9 * MM, z = 17.7 * MM, a = 2.3 * MM;
    g_autoptr(SolidMesh) box = check_mesh_box(x, y, z);
    EnvelopeResult e = make_envelope(box, (EnvelopeOptions){.quick = TRUE, .allowance = a}, 96,
                                     NAN);
    double grown = x * y * z + 2 * (x * y + y * z + z * x) * a + (x + y + z) * G_PI * a * a +
                   4 * G_PI * a * a * a / 3;
    check_close(e.part_volume, x * y * z, 0.002, "box");
    check_close(e.allowance_volume, grown - x * y * z, 0.003, "Steiner");
    // At no draft, the rounded edges below the parting's widest section stay as they are.
    check_close(e.undercut_volume, 0, 1e-4 * e.volume, "a box draws");
    check_close(e.depth_cope + e.depth_drag, z + 2 * a, 0.002, "height");
    envelope_result_clear(&e);
}

// A stub adds its own volume; on a ring it also fills the middle below itself.
static void
test_stub(void)
{
    double r = 24 * MM, h = 15 * MM, d = 12.4 * MM, high = 9.1 * MM;
    g_autoptr(SolidMesh) disc = check_mesh_cylinder(r, h, 256);
    EnvelopeOptions o = {.stub_diameter = d, .stub_height = high, .quick = TRUE};
    EnvelopeResult e = make_envelope(disc, o, 96, NAN);
    check_close(e.stub_volume, G_PI * d * d / 4 * high, 0.02, "cylinder");
    check_close(e.undercut_volume, 0, 1e-4 * e.volume, "the disc draws");
    check_close(e.depth_cope + e.depth_drag, h + high, 0.003, "height with stub");
    envelope_result_clear(&e);
    g_autoptr(SolidMesh) ring = check_mesh_torus(20 * MM, 5 * MM, 128, 64);
    EnvelopeResult f = make_envelope(ring, o, 96, 0.0);
    check_close(f.stub_volume, G_PI * d * d / 4 * (high + 5 * MM), 0.02, "down to the parting");
    envelope_result_clear(&f);
}

// Every vertex of the part lies in the casting, to the bevel of one cell at sharp edges.
static void
test_contains(void)
{
    g_autoptr(SolidMesh)
                  plate = check_mesh_blind_plate(50 * MM, 44 * MM, 18 * MM, 9 * MM, 7 * MM, 64);
    g_autoptr(SolidMesh) mesh = check_mesh_turned(plate);
    double allowances[2] = {0, 1.1 * MM};
    for (int n = 0; n < 2; n++) {
        EnvelopeOptions o = {.draft = 2 * DEG, .allowance = allowances[n]};
        EnvelopeResult e = make_envelope(mesh, o, 72, NAN);
        double worst = -1;
        for (guint32 i = 0; i < mesh->n_vertices; i++)
            worst = fmax(worst, solid_grid_sample(e.casting, mesh->vertices[i]));
        g_assert_cmpfloat(worst, <, (n ? 0.6 : 1.5) * e.casting->cell - allowances[n]);
        check_close(solid_grid_volume(e.casting, 0), e.volume, 0.004, "the same surface");
        envelope_result_clear(&e);
    }
}

static void
test_threads_and_errors(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_torus(20 * MM, 5 * MM, 64, 32);
    EnvelopeOptions o = {.draft = 2 * DEG, .allowance = 1.2 * MM};
    o.stub_diameter = 7.3 * MM;
    o.stub_height = 4.1 * MM;
#ifdef _OPENMP
    omp_set_num_threads(1);
#endif
    EnvelopeResult a = make_envelope(mesh, o, 48, NAN);
#ifdef _OPENMP
    omp_set_num_threads(3);
#endif
    EnvelopeResult b = make_envelope(mesh, o, 48, NAN);
    gsize n = (gsize)a.casting->nx * a.casting->ny * a.casting->nz;
    g_assert_cmpmem(a.casting->value, n * 4, b.casting->value, n * 4);
    g_assert_cmpfloat(a.volume, ==, b.volume);
    g_assert_cmpfloat(a.cope_volume, ==, b.cope_volume);
    g_assert_cmpfloat(a.parting, ==, b.parting);
    g_assert_cmpmem(a.mesh->vertices, a.mesh->n_vertices * sizeof(Vec3), b.mesh->vertices,
                    b.mesh->n_vertices * sizeof(Vec3));
    envelope_result_clear(&a);
    envelope_result_clear(&b);
    g_autoptr(SolidGrid) part = solid_grid_distance(mesh, 2 * MM, 6 * MM, 4 * MM, NULL, NULL);
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    EnvelopeResult untouched = {.volume = 12.3};
    progress_stop(progress);
    g_assert_false(envelope_make(part, &o, NAN, &untouched, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    g_assert_cmpfloat(untouched.volume, ==, 12.3);
    gsize cells = (gsize)part->nx * part->ny * part->nz;
    for (gsize i = 0; i < cells; i++)
        part->value[i] = 1;
    g_assert_false(envelope_make(part, &o, NAN, &untouched, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "finer");
    g_assert_cmpfloat(envelope_cells(part, &o), >, cells);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/envelope/planar", test_planar);
    g_test_add_func("/part/envelope/cylinder", test_cylinder);
    g_test_add_func("/part/envelope/converges", test_converges);
    g_test_add_func("/part/envelope/drag", test_drag);
    g_test_add_func("/part/envelope/sphere", test_sphere);
    g_test_add_func("/part/envelope/hole", test_hole);
    g_test_add_func("/part/envelope/cross-hole", test_cross_hole);
    g_test_add_func("/part/envelope/allowance", test_allowance);
    g_test_add_func("/part/envelope/stub", test_stub);
    g_test_add_func("/part/envelope/contains", test_contains);
    g_test_add_func("/part/envelope/threads-and-errors", test_threads_and_errors);
    return g_test_run();
}
