// SPDX-License-Identifier: GPL-3.0-or-later
// The search for the pull on parts whose answer is known: cone, bracket, clevis, hourglass, ball,
// and one part in twenty positions.
#include "part/search.h"

#include <string.h>

#include "check.h"
#include "shapes.h"
#include "solid/check.h"

#ifdef _OPENMP
#include <omp.h>
#endif

#define MM 1e-3
#define DEG (G_PI / 180)
#define CM3 1e-6

static SearchResult
search_mesh(const SolidMesh *mesh, double draft)
{
    EnvelopeOptions o = {.draft = draft};
    SearchResult r;
    g_autoptr(GError) error = NULL;
    SolidCheck check = solid_check(mesh);
    g_assert_true(check.closed);
    g_assert_cmpuint(check.inside_out, ==, 0);
    gboolean found = search_pulls(mesh, &o, &r, NULL, NULL, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(found);
    g_assert_cmpuint(r.n, >=, 1);
    g_assert_cmpuint(r.directions, >=, 1000);
    return r;
}

static SearchAnswer
judge_mesh(const SolidMesh *mesh, double draft, Vec3 pull)
{
    EnvelopeOptions o = {.draft = draft};
    SearchResult r;
    g_autoptr(GError) error = NULL;
    gboolean judged = search_judge(mesh, &o, pull, &r, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(judged);
    g_assert_cmpuint(r.n, ==, 1);
    return r.answers[0];
}

static void
check_way(Vec3 pull, Vec3 expected, double degrees)
{
    g_assert_cmpfloat(direction_angle(pull, expected), <=, degrees * DEG);
}

static double
measure_frustum(double r1, double r2, double h)
{
    return G_PI * h * (r1 * r1 + r1 * r2 + r2 * r2) / 3;
}

// More taper than asked: along its axis, with nothing added; the base is the parting.
static void
test_cone(void)
{
    const double profile[2][2] = {{22.3 * MM, 0}, {9.1 * MM, 41.7 * MM}};
    g_autoptr(SolidMesh) mesh = shape_turned(profile, 2, 96);
    SearchResult r = search_mesh(mesh, 2 * DEG);
    check_way(r.answers[0].pull, vec3(0, 0, 1), 10);
    g_assert_cmpfloat(r.answers[0].added, <, 0.004 * r.part_volume);
    g_assert_cmpuint(r.answers[0].n_fills, ==, 0);
    UnitSet units = unit_set_default();
    g_autofree char *words = search_words(&r.answers[0], r.part_volume, &units);
    g_assert_true(g_str_has_prefix(words, "All of it draws."));
}

// An L draws along each of its three axes; drawn along its width the draft adds what Steiner says:
// on five outer corners a quarter disc, at the inner corner a square less.
static void
test_bracket(void)
{
    double x = 51.3 * MM, z = 40.9 * MM, t = 9.7 * MM, y = 28.1 * MM, a = tan(3 * DEG), h = y / 2;
    g_autoptr(SolidMesh) mesh = shape_bracket(x, z, t, y);
    double round = 2 * (x + z),
           expected = round * a * h * h + 2 * (5 * G_PI / 4 - 1) * a * a * h * h * h / 3;
    SearchAnswer across = judge_mesh(mesh, 3 * DEG, vec3(0, 1, 0));
    check_close(across.draft_volume, expected, 0.05, "Steiner");
    check_close(across.parting, h, 0.03, "two equal halves");
    SearchResult r = search_mesh(mesh, 3 * DEG);
    g_assert_cmpfloat(r.answers[0].added, <, across.added + 0.01 * r.part_volume);
    g_assert_cmpfloat(r.answers[0].undercut_volume, <, 0.03 * r.part_volume);
}

// No pull leaves the hole open but the one that fills the slot. The answer names the hole.
static void
test_clevis(void)
{
    ShapeClevis c = {.ear = 9.3 * MM,
                     .gap = 17.9 * MM,
                     .y = 57.7 * MM,
                     .z = 26.3 * MM,
                     .base = 11.3 * MM,
                     .sunk = 1.9 * MM,
                     .hole = 6.7 * MM};
    g_autoptr(SolidMesh) mesh = shape_clevis(&c, 64);
    SearchResult r = search_mesh(mesh, 1 * DEG);
    const SearchAnswer *best = &r.answers[0];
    check_way(best->pull, vec3(0, 0, 1), 3);
    double hole = G_PI * c.hole * c.hole * c.ear;
    check_close(best->undercut_volume, 2 * hole, 0.06, "the holes of both ears");
    g_assert_cmpuint(best->n_fills, ==, 2);
    for (int i = 0; i < 2; i++) {
        check_close(best->fills[i].volume, hole, 0.1, "cylinder");
        check_close(best->fills[i].diameter, 2 * c.hole, 0.01, "as drilled");
        check_close(fabs(best->fills[i].middle.x), (c.gap + c.ear) / 2, 0.05, "in the ear");
        check_close(best->fills[i].middle.z, c.z / 2, 0.05, "half-way up");
    }
    UnitSet units = unit_set_default();
    g_autofree char *words = search_words(best, r.part_volume, &units);
    g_assert_true(g_str_has_prefix(words, "The hole of about "));
    g_assert_nonnull(strstr(words, " to drill out. The hole of about "));
    g_assert_true(g_str_has_suffix(words, "."));
    // Stock leaves a narrower hole in the sand, but the part's is the same.
    EnvelopeOptions stock = {.draft = 1 * DEG, .allowance = 2.3 * MM};
    SearchResult stocked;
    g_assert_true(search_judge(mesh, &stock, vec3(0, 0, 1), &stocked, NULL, NULL));
    g_assert_cmpuint(stocked.answers[0].n_fills, ==, 2);
    check_close(stocked.answers[0].fills[1].diameter, 2 * c.hole, 0.02, "as drilled");
    // Along the hole, the slot fills instead, and that is no hole.
    SearchAnswer along = judge_mesh(mesh, 1 * DEG, vec3(1, 0, 0));
    check_close(along.undercut_volume, c.gap * (c.y * c.z - G_PI * c.hole * c.hole) + 0.0, 0.06,
                "between the ears");
    g_assert_cmpfloat(along.fills[0].enclosed, <, 0.6);
}

// Across its axis, parted through it, nothing fills; along it, all round the waist does. Wide at
// the waist instead, the parting is there.
static void
test_hourglass(void)
{
    double wide = 21.7 * MM, waist = 10.3 * MM, high = 44.9 * MM, up = 25.3 * MM;
    const double narrow[3][2] = {{wide, 0}, {waist, up}, {wide, high}};
    g_autoptr(SolidMesh) glass = shape_turned(narrow, 3, 96);
    SearchResult r = search_mesh(glass, 0.5 * DEG);
    check_way(r.answers[0].pull, vec3(r.answers[0].pull.x, r.answers[0].pull.y, 0), 3);
    check_close(r.answers[0].parting, 0, 0.03 * wide, "through the axis");
    g_assert_cmpfloat(r.answers[0].undercut_volume, <, 0.004 * r.part_volume);
    SearchAnswer along = judge_mesh(glass, 0.5 * DEG, vec3(0, 0, 1));
    check_close(along.undercut_volume,
                G_PI * wide * wide * high - measure_frustum(wide, waist, high), 0.02,
                "cylinder less two frustums");
    const double bulge[3][2] = {{waist, 0}, {wide, up}, {waist, high}};
    g_autoptr(SolidMesh) top = shape_turned(bulge, 3, 96);
    SearchAnswer a = judge_mesh(top, 2 * DEG, vec3(0, 0, 1));
    check_close(a.parting, up, 0.02, "where it is widest");
    g_assert_cmpfloat(a.added, <, 0.004 * r.part_volume);
}

// Any pull is as good, so there is one answer; the parting is the equator.
static void
test_ball(void)
{
    double radius = 23.1 * MM;
    g_autoptr(SolidMesh) ball = check_mesh_sphere(radius, 64, 128);
    Vec3 shift = vec3(3.1 * MM, -7.9 * MM, 12.7 * MM);
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(ball, same, shift);
    SearchResult r = search_mesh(mesh, 1 * DEG);
    g_assert_cmpuint(r.n, ==, 1);
    check_close(r.answers[0].parting - vec3_dot(r.answers[0].pull, shift), 0, 0.02 * radius,
                "equator");
    check_close(r.answers[0].depth_cope, radius, 0.02, "half");
    check_close(r.answers[0].parting_area, G_PI * radius * radius, 0.02, "disc");
}

// The same part in twenty positions has the same best pull, in its own axes, at the same cost.
static void
test_rotations(void)
{
    ShapeClevis c = {.ear = 8.7 * MM,
                     .gap = 21.3 * MM,
                     .y = 57.1 * MM,
                     .z = 26.9 * MM,
                     .base = 14.1 * MM,
                     .sunk = 2.3 * MM,
                     .hole = 7.9 * MM};
    g_autoptr(SolidMesh) mesh = shape_clevis(&c, 48);
    g_autoptr(GRand) rand = g_rand_new_with_seed(11);
    double first = 0;
    for (int n = 0; n < 20; n++) {
        double rotation[9];
        Vec3 axis = vec3(g_rand_double_range(rand, -1, 1), g_rand_double_range(rand, -1, 1),
                         g_rand_double_range(rand, -1, 1));
        double angle = n == 0 ? 0 : g_rand_double_range(rand, 0.3, 3);
        g_autoptr(SolidMesh) turned = shape_rotated(mesh, axis, angle, vec3(0.031, -0.017, 0.007),
                                                    rotation);
        SearchResult r = search_mesh(turned, 2 * DEG);
        Vec3 p = r.answers[0].pull;
        Vec3 own = vec3(rotation[0] * p.x + rotation[3] * p.y + rotation[6] * p.z,
                        rotation[1] * p.x + rotation[4] * p.y + rotation[7] * p.z,
                        rotation[2] * p.x + rotation[5] * p.y + rotation[8] * p.z);
        check_way(own, vec3(0, 0, 1), 3);
        if (n == 0)
            first = r.answers[0].added;
        check_close(r.answers[0].added, first, 0.03, "the first position");
    }
}

static void
count_report(const SearchResult *first, gpointer data)
{
    g_assert_cmpuint(first->n, >=, 1);
    ++*(int *)data;
}

static void
test_threads_and_stop(void)
{
    ShapeClevis c = {.ear = 9.3 * MM,
                     .gap = 17.9 * MM,
                     .y = 57.7 * MM,
                     .z = 26.3 * MM,
                     .base = 11.3 * MM,
                     .sunk = 1.9 * MM,
                     .hole = 6.7 * MM};
    g_autoptr(SolidMesh) mesh = shape_clevis(&c, 32);
    EnvelopeOptions o = {.draft = 2 * DEG, .allowance = 1.3 * MM};
    o.stub_diameter = 11.1 * MM;
    o.stub_height = 7.3 * MM;
    SearchResult a, b;
    int told = 0;
    g_autoptr(GError) error = NULL;
#ifdef _OPENMP
    omp_set_num_threads(1);
#endif
    g_assert_true(search_pulls(mesh, &o, &a, count_report, &told, NULL, &error));
    g_assert_no_error(error);
#ifdef _OPENMP
    omp_set_num_threads(3);
#endif
    g_assert_true(search_pulls(mesh, &o, &b, count_report, &told, NULL, &error));
    g_assert_cmpint(told, ==, 2);
    g_assert_cmpuint(a.n, ==, b.n);
    for (guint i = 0; i < a.n; i++) {
        g_assert_cmpfloat(a.answers[i].added, ==, b.answers[i].added);
        g_assert_cmpfloat(a.answers[i].pull.x, ==, b.answers[i].pull.x);
        g_assert_cmpfloat(a.answers[i].parting, ==, b.answers[i].parting);
        g_assert_cmpfloat(a.answers[i].stub_volume, >, 0);
    }
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    SearchResult untouched = {.directions = 77};
    g_assert_false(search_pulls(mesh, &o, &untouched, NULL, NULL, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    g_assert_cmpuint(untouched.directions, ==, 77);
    g_assert_false(search_judge(mesh, &o, vec3(0, 0, 1), &untouched, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    g_assert_cmpuint(untouched.directions, ==, 77);
}

// What walls, corners and closed holes add is told apart, and all causes together are what is
// added.
static void
test_causes(void)
{
    double z = 31.3 * MM, t = 7.9 * MM, y = 19.7 * MM, radius = 4.1 * MM;
    g_autoptr(SolidMesh) bracket = shape_bracket(34.7 * MM, z, t, y);
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(38.3 * MM, 29.1 * MM, 13.7 * MM, 3.3 * MM,
                                                        9.7 * MM, 64);
    struct {
        const SolidMesh *mesh;
        EnvelopeOptions options;
        Vec3 pull;
        double fillet, closed;
    } cases[] = {
        {bracket,
         {.fillet = radius},
         {0, 1, 0},
         (1 - G_PI / 4) * radius * radius * y,
         0}, // a square less a quarter circle
        {plate, {.close_holes = 7 * MM}, {0, 0, 1}, 0, G_PI * 3.3 * 3.3 * 9.7 * MM * MM * MM},
        {bracket, {.min_wall = 9.3 * MM}, {0, 1, 0}, 0, 0}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        SearchResult r;
        g_assert_true(
            search_judge(cases[i].mesh, &cases[i].options, cases[i].pull, &r, NULL, NULL));
        const SearchAnswer *a = &r.answers[0];
        // On the coarse cells of a search, so good to a share of the part.
        double good = 0.004 * r.part_volume;
        g_assert_cmpfloat(fabs(a->fillet_volume - cases[i].fillet), <=, good);
        g_assert_cmpfloat(fabs(a->closed_volume - cases[i].closed), <=, good);
        if (cases[i].options.min_wall > 0)
            g_assert_cmpfloat(a->wall_volume, >, 0);
        else
            check_close(a->wall_volume, 0, 1e-12, "not asked for");
        double sum = a->allowance_volume + a->wall_volume + a->fillet_volume + a->closed_volume +
                     a->stub_volume + a->undercut_volume + a->draft_volume;
        check_close(sum, a->added, 0.01, "sum of the causes");
    }
}

// Two shells as one mesh.
static SolidMesh *
join_meshes(const SolidMesh *a, const SolidMesh *b, Vec3 shift)
{
    SolidMesh *m = solid_mesh_new(a->n_vertices + b->n_vertices, a->n_triangles + b->n_triangles);
    for (guint32 i = 0; i < m->n_vertices; i++)
        m->vertices[i] = i < a->n_vertices ? a->vertices[i]
                                           : vec3_add(b->vertices[i - a->n_vertices], shift);
    for (guint32 t = 0; t < m->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            m->triangles[t][c] = t < a->n_triangles
                                     ? a->triangles[t][c]
                                     : b->triangles[t - a->n_triangles][c] + a->n_vertices;
    return m;
}

// A sheet draws square to itself at almost no cost, with its bosses level with a layer of cells or
// not; what a pull adds is the sum of its causes and never more than a box round the part.
static void
test_sheet(void)
{
    for (int n = 0; n < 5; n++) {
        double thick = 1.5 * MM, boss = thick + (0.1 + 0.03 * n) * MM;
        g_autoptr(SolidMesh) sheet = check_mesh_box(120 * MM, 80 * MM, thick);
        g_autoptr(SolidMesh) disc = check_mesh_cylinder(7 * MM, boss, 32);
        g_autoptr(SolidMesh) one = join_meshes(sheet, disc, vec3(20 * MM, 40 * MM, 0));
        g_autoptr(SolidMesh) mesh = join_meshes(one, disc, vec3(100 * MM, 40 * MM, 0));
        SearchResult r = search_mesh(mesh, 2 * DEG);
        check_way(r.answers[0].pull, vec3(0, 0, 1), 1);
        g_assert_cmpfloat(r.answers[0].added, <, 0.005 * r.part_volume);
        for (guint i = 0; i < r.n; i++) {
            const SearchAnswer *a = &r.answers[i];
            g_assert_cmpfloat(a->added, <, 125 * 85 * 145 * MM * MM * MM);
            check_close(a->added, a->undercut_volume + a->draft_volume, 1e-12, "two causes");
        }
    }
}

// Bosses on both sides of a plate some cells thick: what the draft adds is theirs and the rim's.
static void
test_plate(void)
{
    double x = 119.3 * MM, y = 79.1 * MM, t = 3.1 * MM, radius = 7.3 * MM, up = 5.2 * MM,
           down = 8.3 * MM, a = tan(2 * DEG);
    g_autoptr(SolidMesh) sheet = check_mesh_box(x, y, t);
    g_autoptr(SolidMesh) disc = check_mesh_cylinder(radius, down + t + up, 64);
    g_autoptr(SolidMesh) mesh = join_meshes(sheet, disc, vec3(x / 2, y / 2, -down));
    SearchAnswer answer = judge_mesh(mesh, 2 * DEG, vec3(0, 0, 1));
    // A boss of height h gains a cone's skin, 2 pi r h2 a / 2 and pi a2 h3 / 3.
    double bosses = G_PI * radius * a * (up * up + down * down) +
                    G_PI * a * a * (up * up * up + down * down * down) / 3;
    double rim = (x + y) * a * t * t / 2;
    check_close(answer.draft_volume, bosses + rim, 0.15, "Steiner");
    g_assert_cmpfloat(answer.added, >=, answer.draft_volume);
}

// No cell can lie in it: said at once.
static void
test_paper(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(41.3 * MM, 29.7 * MM, 0.017 * MM);
    EnvelopeOptions o = {.draft = 2 * DEG};
    SearchResult untouched = {.directions = 77};
    g_autoptr(GError) error = NULL;
    g_assert_false(search_pulls(mesh, &o, &untouched, NULL, NULL, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "thinner than the cells");
    g_assert_cmpuint(untouched.directions, ==, 77);
    o.allowance = 2.1 * MM;
    g_assert_true(search_judge(mesh, &o, vec3(0, 0, 1), &untouched, NULL, &error));
    g_assert_no_error(error);
}

// What no drill comes to is not called a hole; places are told to what the cells know.
static void
test_enclosed(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(41.3 * MM, 37.9 * MM, 29.7 * MM);
    g_autoptr(SolidMesh) ball = check_mesh_sphere(8.3 * MM, 32, 64);
    g_autoptr(SolidMesh) hollow = solid_mesh_flipped(ball);
    g_autoptr(SolidMesh) mesh = join_meshes(box, hollow, vec3(17.3 * MM, 19.1 * MM, 15.7 * MM));
    SearchAnswer a = judge_mesh(mesh, 1 * DEG, vec3(0, 0, 1));
    UnitSet units = unit_set_default();
    g_autofree char *words = search_words(&a, 1, &units);
    g_assert_cmpuint(a.n_fills, ==, 1);
    check_close(a.fills[0].diameter, 16.6 * MM, 0.02, "ball");
    g_assert_nonnull(strstr(words, "The enclosed hollow at 17.3 mm, 19.1 mm, 15.7 mm fills: "));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/search/causes", test_causes);
    g_test_add_func("/part/search/cone", test_cone);
    g_test_add_func("/part/search/bracket", test_bracket);
    g_test_add_func("/part/search/clevis", test_clevis);
    g_test_add_func("/part/search/hourglass", test_hourglass);
    g_test_add_func("/part/search/ball", test_ball);
    g_test_add_func("/part/search/enclosed", test_enclosed);
    g_test_add_func("/part/search/paper", test_paper);
    g_test_add_func("/part/search/plate", test_plate);
    g_test_add_func("/part/search/sheet", test_sheet);
    g_test_add_func("/part/search/rotations", test_rotations);
    g_test_add_func("/part/search/threads-and-stop", test_threads_and_stop);
    return g_test_run();
}
