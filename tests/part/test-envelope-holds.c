// SPDX-License-Identifier: GPL-3.0-or-later
// The envelope holds the part with its allowance, and leaves the sand: by looking at its surface
// with upright lines and at all triangles one by one, in odd positions.
#include "check.h"
#include "part/envelope.h"
#include "rays.h"
#include "shapes.h"

#define SLACK 0.3 // in cells: how far a place may lean,
#define BEVEL 0.5 // how far the edges at the parting may be bevelled,
#define WAVER 0.1 // and how far a steep wall of a net may waver
#define MM 1e-3
#define DEG (G_PI / 180)

static GRand *dice; // the same throws every time

// Distance from a point to a triangle: to the plane when the foot lies within, else to the nearest
// of the three sides.
static double
measure_triangle(Vec3 p, Vec3 a, Vec3 b, Vec3 c)
{
    Vec3 corner[3] = {a, b, c}, n = vec3_cross(vec3_sub(b, a), vec3_sub(c, a));
    double best = INFINITY;
    gboolean within = TRUE;
    for (int i = 0; i < 3; i++) {
        Vec3 from = corner[i], side = vec3_sub(corner[(i + 1) % 3], from), to = vec3_sub(p, from);
        double t = CLAMP(vec3_dot(to, side) / fmax(vec3_dot(side, side), 1e-30), 0.0, 1.0);
        best = fmin(best, vec3_length(vec3_sub(to, vec3_scale(side, t))));
        within = within && vec3_dot(vec3_cross(side, to), n) >= 0;
    }
    return within && vec3_length(n) > 0 ? fabs(vec3_dot(vec3_sub(p, a), n)) / vec3_length(n) : best;
}

// Signed distance to a closed mesh, negative inside, over all triangles.
static double
measure_point(const SolidMesh *mesh, Vec3 p)
{
    double best = INFINITY;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *c = mesh->triangles[t];
        best = fmin(best, measure_triangle(p, mesh->vertices[c[0]], mesh->vertices[c[1]],
                                           mesh->vertices[c[2]]));
    }
    // Off the lines that run through vertices by chance.
    return rays_inside(mesh, vec3_add(p, vec3(1.1e-9, 0.7e-9, 0))) ? -best : best;
}

static EnvelopeResult
make_envelope(const SolidMesh *mesh, EnvelopeOptions o, int cells)
{
    Vec3 low = mesh->vertices[0], high = low;
    for (guint32 i = 1; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        low = vec3(fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z));
        high = vec3(fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z));
    }
    Vec3 size = vec3_sub(high, low);
    double cell = fmax(size.x, fmax(size.y, size.z)) / cells, reach = envelope_reach(&o, cell);
    EnvelopeResult r;
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) part = solid_grid_distance(mesh, cell, reach, reach, NULL, &error);
    g_assert_no_error(error);
    o.part = mesh;
    g_assert_true(envelope_make(part, &o, NAN, &r, NULL, &error));
    g_assert_no_error(error);
    return r;
}

static SolidMesh *
make_part(int which)
{
    static const double knob[5][2] = {{9.1 * MM, 0},
                                      {14.3 * MM, 6.7 * MM},
                                      {5.9 * MM, 11.3 * MM},
                                      {12.7 * MM, 17.9 * MM},
                                      {3.3 * MM, 23.1 * MM}};
    switch (which) {
    case 0:
        return check_mesh_box(31.7 * MM, 22.3 * MM, 13.9 * MM);
    case 1:
        return shape_bracket(38.3 * MM, 29.9 * MM, 7.7 * MM, 19.1 * MM);
    case 2:
        return shape_turned(knob, G_N_ELEMENTS(knob), 14);
    case 3:
        return check_mesh_torus(13.7 * MM, 4.3 * MM, 16, 9);
    default:
        return check_mesh_blind_plate(33.7 * MM, 27.1 * MM, 14.3 * MM, 7.9 * MM, 9.3 * MM, 16);
    }
}

enum {
    PARTS = 5
};

// As it stands, or turned anyhow.
static SolidMesh *
place_part(int which, int turn)
{
    g_autoptr(SolidMesh) mesh = make_part(which);
    double r[9], x = g_rand_double_range(dice, -1, 1), y = g_rand_double_range(dice, -1, 1);
    if (turn == 0)
        return solid_mesh_ref(mesh);
    return shape_rotated(mesh, vec3(x, y, 0.3), g_rand_double_range(dice, 0.2, 6), vec3(0, 0.1, 0),
                         r);
}

// Every vertex of the part lies as deep in the casting as the allowance, within a thirtieth of a
// cell; every cell that lies in the part and its allowance lies in the casting.
static void
check_held(const SolidMesh *mesh, double allowance)
{
    EnvelopeOptions o = {.draft = 2 * DEG, .allowance = allowance};
    EnvelopeResult e = make_envelope(mesh, o, 40);
    const SolidGrid *g = e.casting;
    double worst = -INFINITY;
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        worst = fmax(worst, measure_point(e.mesh, mesh->vertices[i]));
    guint lost = 0, looked = 0;
    for (int k = 0; k < g->nz; k += 2)
        for (int j = 0; j < g->ny; j += 2)
            for (int i = 0; i < g->nx; i += 2) {
                Vec3 p = vec3(g->origin.x + i * g->cell, g->origin.y + j * g->cell,
                              g->origin.z + k * g->cell);
                if (measure_point(mesh, p) > allowance - 0.05 * g->cell)
                    continue;
                looked++;
                lost += g->value[solid_grid_index(g, i, j, k)] > 0;
            }
    g_test_message("deepest need missed by %.3f cells; %u cells looked at, %u lost",
                   (worst + allowance) / g->cell, looked, lost);
    g_assert_cmpfloat(worst + allowance, <, 0.03 * g->cell);
    g_assert_cmpuint(looked, >, 200);
    g_assert_cmpuint(lost, ==, 0);
    envelope_result_clear(&e);
}

static void
test_held(void)
{
    for (int which = 0; which < PARTS; which++)
        for (int turn = 0; turn < 2; turn++) {
            g_autoptr(SolidMesh) mesh = place_part(which, turn);
            check_held(mesh, turn % 2 ? 1.3 * MM : 0);
            check_held(mesh, turn % 2 ? 0 : 1.3 * MM);
        }
}

// Length of what stands or hangs apart on one upright line: anything but one stretch of metal that
// reaches the parting, but for the `bevel` (m) the cells give the edges there.
static double
find_loose(const GArray *z, double parting, double bevel)
{
    double loose = 0;
    for (guint i = 0; i + 1 < z->len; i += 2) {
        double low = g_array_index(z, double, i), high = g_array_index(z, double, i + 1);
        double gap = fmax(low - parting, parting - high) - bevel;
        if (gap > 0)
            loose += fmin(high - low, gap);
    }
    return loose;
}

// The least of what stands loose on a line and on four lines `waver` (m) beside it.
static double
find_worst(const SolidMesh *mesh, double x, double y, double parting, double bevel, double waver)
{
    const double beside[5][2] = {{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    double least = INFINITY;
    for (int i = 0; i < 5 && least > 0; i++) {
        g_autoptr(GArray) z = rays_cross(mesh, x + waver * beside[i][0], y + waver * beside[i][1]);
        if (z->len % 2 == 0) // else it runs through an edge
            least = fmin(least, find_loose(z, parting, bevel));
    }
    return isfinite(least) ? least : 0;
}

// A point of the surface, moved towards the parting by h and out by what the draft gives over h,
// still lies in the metal.
static gboolean
keeps_draft(const SolidMesh *mesh, Vec3 p, Vec3 normal, double h, double parting, double tangent,
            double slack)
{
    double side = p.z > parting ? -1 : 1, flat = hypot(normal.x, normal.y);
    double out = flat > 0.3 ? (h * tangent - slack) / flat : 0;
    Vec3 q = vec3(p.x + out * normal.x, p.y + out * normal.y, p.z + side * h);
    if (flat > 0.3)
        return rays_inside(mesh, q);
    // A level place may end in an edge on any side.
    return rays_inside(mesh, q) || rays_inside(mesh, vec3_add(q, vec3(slack, 0, 0))) ||
           rays_inside(mesh, vec3_add(q, vec3(-slack, 0, 0))) ||
           rays_inside(mesh, vec3_add(q, vec3(0, slack, 0))) ||
           rays_inside(mesh, vec3_add(q, vec3(0, -slack, 0)));
}

static void
check_draws(const SolidMesh *mesh, double draft)
{
    EnvelopeResult e = make_envelope(mesh, (EnvelopeOptions){.draft = draft}, 40);
    double cell = e.casting->cell, worst = 0;
    Vec3 low = e.casting->origin;
    for (int n = 0; n < 1500; n++) {
        double x = low.x + g_rand_double(dice) * e.casting->nx * cell;
        double y = low.y + g_rand_double(dice) * e.casting->ny * cell;
        worst = fmax(worst, find_worst(e.mesh, x, y, e.parting, BEVEL * cell, WAVER * cell));
    }
    guint looked = 0, lean = 0;
    double h = 4 * cell;
    for (int n = 0; n < 1500; n++) {
        guint32 t = (guint32)g_rand_int_range(dice, 0, (int)e.mesh->n_triangles);
        const guint32 *c = e.mesh->triangles[t];
        Vec3 a = e.mesh->vertices[c[0]], b = e.mesh->vertices[c[1]], d = e.mesh->vertices[c[2]];
        Vec3 p = vec3_scale(vec3_add(a, vec3_add(b, d)), 1.0 / 3);
        Vec3 normal = vec3_unit(vec3_cross(vec3_sub(b, a), vec3_sub(d, a)));
        if (fabs(p.z - e.parting) < h + cell)
            continue;
        looked++;
        lean += !keeps_draft(e.mesh, p, normal, h, e.parting, tan(draft), SLACK * cell);
    }
    g_test_message("draft %.1f deg: %.3f cells loose; %u of %u places lean", draft / DEG,
                   worst / cell, lean, looked);
    g_assert_cmpfloat(worst, <, 0.05 * cell);
    g_assert_cmpuint(lean, ==, 0);
    envelope_result_clear(&e);
}

static void
test_draws(void)
{
    static const double drafts[] = {0, 3 * DEG, 8 * DEG};
    for (int which = 0; which < PARTS; which++)
        for (guint d = 0; d < G_N_ELEMENTS(drafts); d++) {
            g_autoptr(SolidMesh) mesh = place_part(which, (int)d);
            check_draws(mesh, drafts[d]);
        }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/envelope-holds/held", test_held);
    g_test_add_func("/part/envelope-holds/draws", test_draws);
    dice = g_rand_new_with_seed(4711);
    int result = g_test_run();
    g_rand_free(dice);
    return result;
}
