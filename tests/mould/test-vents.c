// SPDX-License-Identifier: GPL-3.0-or-later
// Roofs and vents of shapes whose high points are known.
#include "check.h"
#include "mould/vents.h"

typedef double (*Height)(double x, double y); // m over the parting; negative: no metal

#define CELL 0.00097
#define NX 110
#define NY 70

static SolidGrid *
make_casting(Height height)
{
    SolidGrid *g = solid_grid_new(NX, NY, 40, CELL,
                                  vec3(-(NX - 1) * CELL / 2, -(NY - 1) * CELL / 2, -0.006));
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < NY; j++)
            for (int i = 0; i < NX; i++) {
                double x = g->origin.x + i * CELL, y = g->origin.y + j * CELL;
                double z = g->origin.z + k * CELL, h = height(x, y);
                double d = h < 0 ? 0.001 : fmax(z - h, -0.004 - z);
                g->value[solid_grid_index(g, i, j, k)] = (float)d;
            }
    return g;
}

static gboolean
in_plate(double x, double y)
{
    return fabs(x) < 0.0487 && fabs(y) < 0.0293;
}

static double
flat(double x, double y)
{
    return in_plate(x, y) ? 0.0083 : -1;
}

static double
in_drag(double x, double y)
{
    return in_plate(x, y) ? 0 : -1;
}

// Two cones on a plate, 17 and 12 mm high.
static double
cones(double x, double y)
{
    double a = 0.017 - 0.7 * hypot(x + 0.0251, y - 0.0073);
    double b = 0.012 - 0.7 * hypot(x - 0.0283, y + 0.0111);
    return in_plate(x, y) ? fmax(0.0051, fmax(a, b)) : -1;
}

// A dish: highest round its edge.
static double
dish(double x, double y)
{
    double r = hypot(x, y);
    return r < 0.0271 ? 0.004 + 6 * r * r : -1;
}

static MouldCavity *
set_layout(MouldLayout *l, const SolidPoint *gate)
{
    static MouldCavity cavity;
    static MouldChannel channel;
    cavity = (MouldCavity){0.0131, -0.0217, 0.83, NAN, NAN, 0, 0, 0};
    *l = (MouldLayout){
        .length = 0.3, .width = 0.2, .cope = 0.0831, .cavities = &cavity, .n_cavities = 1};
    if (gate) {
        SolidPoint to = mould_roof_out(&cavity, gate->x, gate->y);
        channel = (MouldChannel){0, 0, to.x, to.y, 0.012, 0.004};
        l->gates = &channel;
        l->n_gates = 1;
    }
    return &cavity;
}

static guint
count_kind(const MouldLayout *l, MouldVentKind kind)
{
    guint n = 0;
    for (guint i = 0; i < l->n_vents; i++)
        n += l->vents[i].kind == kind;
    return n;
}

// The vent of a kind nearest a point of the cavity's axes, and how far it is from it.
static double
distance_to(const MouldLayout *l, MouldVentKind kind, double x, double y, const MouldVent **vent)
{
    double least = INFINITY;
    for (guint i = 0; i < l->n_vents; i++) {
        SolidPoint p = mould_roof_into(&l->cavities[0], l->vents[i].x, l->vents[i].y);
        if (l->vents[i].kind == kind && hypot(p.x - x, p.y - y) < least) {
            least = hypot(p.x - x, p.y - y);
            *vent = &l->vents[i];
        }
    }
    return least;
}

static void
test_roof(void)
{
    g_autoptr(SolidGrid) g = make_casting(cones);
    double s = 1.013;
    g_autoptr(MouldRoof) roof = mould_roof_new(g, s);
    for (double x = -0.045; x < 0.045; x += 0.0071)
        for (double y = -0.025; y < 0.025; y += 0.0053) {
            double i = floor((s * x - roof->origin.x) / roof->cell + 0.5);
            double j = floor((s * y - roof->origin.y) / roof->cell + 0.5);
            double cx = g->origin.x + i * CELL, cy = g->origin.y + j * CELL;
            check_close(mould_roof_at(roof, s * x, s * y), s * cones(cx, cy), 1e-4, "as made");
        }
    g_assert_true(isnan(mould_roof_at(roof, 0.0517, 0)));
    g_assert_true(isnan(mould_roof_at(roof, 1, 0)));
}

static void
test_beside(void)
{
    g_autoptr(SolidGrid) g = make_casting(flat);
    g_autoptr(MouldRoof) roof = mould_roof_new(g, 1);
    double d = 0.0203, all = G_PI / 4 * d * d;
    check_close(mould_roof_beside(roof, 0.2, 0, d, 0.03), all * 0.03, 1e-9, "clear of it");
    check_close(mould_roof_beside(roof, 0, 0, d, 0.03), all * (0.03 - 0.0083), 1e-4, "on it");
    g_assert_cmpfloat(mould_roof_beside(roof, 0, 0, d, 0.005), ==, 0);
}

static void
test_distance(void)
{
    g_autoptr(SolidGrid) g = make_casting(flat);
    g_autoptr(MouldRoof) roof = mould_roof_new(g, 1);
    g_autofree double *d = mould_roof_distance(roof, 0, 0, CELL);
    int at = 0;
    for (int j = 0; j < NY; j++)
        for (int i = 0; i < NX; i++, at++) {
            double x = roof->origin.x + i * CELL, y = roof->origin.y + j * CELL;
            if (!in_plate(x, y)) {
                g_assert_true(isnan(d[at]));
                continue;
            }
            g_assert_cmpfloat(d[at], >=, hypot(x, y) - 1.5 * CELL);
            g_assert_cmpfloat(d[at], <=, 1.03 * hypot(x, y) + CELL);
        }
}

static void
test_cones(void)
{
    g_autoptr(SolidGrid) g = make_casting(cones);
    MouldLayout l;
    double s = 1.011;
    set_layout(&l, NULL);
    mould_vents_find(&l, g, s, 0.002);
    g_assert_cmpuint(l.n_vents, ==, 2);
    const MouldVent *v = NULL;
    double near = distance_to(&l, MOULD_VENT_PEAK, s * -0.0251, s * 0.0073, &v);
    g_assert_cmpfloat(near, <, CELL);
    g_assert_cmpfloat(fabs(v->z - s * 0.017), <, 0.0007);
    check_close(v->depth, l.cope - v->z, 1e-12, "sand above");
    near = distance_to(&l, MOULD_VENT_PEAK, s * 0.0283, s * -0.0111, &v);
    g_assert_cmpfloat(near, <, CELL);
    g_clear_pointer(&l.vents, g_free);
}

static void
test_dish(void)
{
    g_autoptr(SolidGrid) g = make_casting(dish);
    MouldLayout l;
    set_layout(&l, NULL);
    mould_vents_find(&l, g, 1, 0.002);
    // The edge is one ring, uneven only by the raster.
    g_assert_cmpuint(count_kind(&l, MOULD_VENT_PEAK), ==, 1);
    SolidPoint p = mould_roof_into(&l.cavities[0], l.vents[0].x, l.vents[0].y);
    g_assert_cmpfloat(hypot(p.x, p.y), >, 0.0271 - 3 * CELL);
    g_clear_pointer(&l.vents, g_free);
}

static void
test_far_corners(void)
{
    g_autoptr(SolidGrid) g = make_casting(flat);
    MouldLayout l;
    const SolidPoint gate = {-0.0487, 0};
    set_layout(&l, &gate);
    mould_vents_find(&l, g, 1, 0.002);
    // One over the flat top's middle, two in the corners across from the gate.
    g_assert_cmpuint(count_kind(&l, MOULD_VENT_PEAK), ==, 1);
    g_assert_cmpuint(count_kind(&l, MOULD_VENT_FAR_FROM_GATE), ==, 2);
    g_clear_pointer(&l.vents, g_free);
    const SolidPoint side = {0, -0.0293};
    set_layout(&l, &side);
    mould_vents_find(&l, g, 1, 0.002);
    g_assert_cmpuint(count_kind(&l, MOULD_VENT_FAR_FROM_GATE), ==, 2);
    const MouldVent *v = NULL;
    for (int k = -1; k <= 1; k += 2)
        g_assert_cmpfloat(distance_to(&l, MOULD_VENT_FAR_FROM_GATE, k * 0.0487, 0.0293, &v), <,
                          0.003);
    g_clear_pointer(&l.vents, g_free);
}

static void
test_riser(void)
{
    g_autoptr(SolidGrid) g = make_casting(flat);
    MouldLayout l;
    MouldCavity *c = set_layout(&l, NULL);
    SolidPoint riser = mould_roof_out(c, 0, -0.053), neck = mould_roof_out(c, 0, -0.0293);
    c->riser_x = riser.x;
    c->riser_y = riser.y;
    c->neck_x = neck.x;
    c->neck_y = neck.y;
    l.riser.diameter = 0.031;
    l.riser.height = 0.0347;
    l.neck = (MouldNeck){0.014, 0.0052, 0.004, 0.0083, 0.004};
    mould_vents_find(&l, g, 1, 0.002);
    g_assert_cmpuint(count_kind(&l, MOULD_VENT_RISER), ==, 1);
    g_assert_cmpuint(count_kind(&l, MOULD_VENT_PEAK), ==, 1); // the neck is lower than the plate
    const MouldVent *v = NULL;
    g_assert_cmpfloat(distance_to(&l, MOULD_VENT_RISER, 0, -0.053, &v), <, 1e-9);
    check_close(v->depth, l.cope - 0.0347, 1e-9, "over the riser");
    g_clear_pointer(&l.vents, g_free);
    // A riser on the plate takes its air: nothing else is higher than the way there.
    riser = mould_roof_out(c, 0, 0);
    c->riser_x = c->neck_x = riser.x;
    c->riser_y = c->neck_y = riser.y;
    mould_vents_find(&l, g, 1, 0.002);
    g_assert_cmpuint(l.n_vents, ==, 1);
    g_assert_cmpint(l.vents[0].kind, ==, MOULD_VENT_RISER);
    g_clear_pointer(&l.vents, g_free);
}

static void
test_in_the_drag(void)
{
    g_autoptr(SolidGrid) g = make_casting(in_drag);
    MouldLayout l;
    const SolidPoint side = {0, -0.0293};
    set_layout(&l, &side);
    mould_vents_find(&l, g, 1, 0.002);
    g_assert_cmpuint(l.n_vents, ==, 0); // the parting lets it out
    g_clear_pointer(&l.vents, g_free);
}

static void
test_diameter(void)
{
    check_close(mould_vent_diameter(0.061, 0.002), 0.002, 1e-12, "the wire is stiff enough");
    check_close(mould_vent_diameter(0.0931, 0.002), 0.0025, 1e-12, "93 mm over 40");
    check_close(mould_vent_diameter(0.08, 0.002), 0.002, 1e-12, "just so");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/vents/roof", test_roof);
    g_test_add_func("/mould/vents/beside", test_beside);
    g_test_add_func("/mould/vents/distance", test_distance);
    g_test_add_func("/mould/vents/cones", test_cones);
    g_test_add_func("/mould/vents/dish", test_dish);
    g_test_add_func("/mould/vents/far", test_far_corners);
    g_test_add_func("/mould/vents/riser", test_riser);
    g_test_add_func("/mould/vents/drag", test_in_the_drag);
    g_test_add_func("/mould/vents/diameter", test_diameter);
    return g_test_run();
}
