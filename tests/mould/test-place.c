// SPDX-License-Identifier: GPL-3.0-or-later
// Layouts: what fits, that nothing overlaps, that metal is what is drawn, that gating formulas
// hold.
#include <math.h>

#include "check.h"
#include "mould/build.h"
#include "mould/cover.h"
#include "mould/gating.h"
#include "mould/polygon.h"
#include "wish.h"

static SolidOutline
box_outline(SolidPoint points[4], guint starts[2], double x, double y)
{
    points[0] = (SolidPoint){-x / 2, -y / 2};
    points[1] = (SolidPoint){x / 2, -y / 2};
    points[2] = (SolidPoint){x / 2, y / 2};
    points[3] = (SolidPoint){-x / 2, y / 2};
    starts[0] = 0;
    starts[1] = 4;
    return (SolidOutline){points, 4, starts, 1};
}

static double
disc(double d)
{
    return G_PI / 4 * d * d;
}

// All metal from the shapes of the layout alone.
static double
drawn_volume(const MouldLayout *l, const MouldWish *w)
{
    double top = l->sprue_top_diameter / 2, bottom = l->sprue_bottom_diameter / 2;
    double sum = G_PI / 3 * l->sprue_height * (top * top + top * bottom + bottom * bottom);
    sum += disc(l->well_diameter) * l->well_depth + disc(l->basin_diameter) * l->basin_height;
    for (guint i = 0; i < l->n_runners; i++) {
        const MouldChannel *c = &l->runners[i];
        sum += c->width * c->depth * hypot(c->x2 - c->x1, c->y2 - c->y1);
    }
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        const MouldChannel *g = &l->gates[i];
        sum += w->cavity_volume + g->width * g->depth * hypot(g->x2 - g->x1, g->y2 - g->y1);
        if (!isnan(c->riser_x)) {
            sum += disc(l->riser.diameter) * l->riser.height;
            // The lower half begins under the riser's middle.
            double away = hypot(c->neck_x - c->riser_x, c->neck_y - c->riser_y);
            sum += l->neck.width * l->neck.up * (away - l->riser.diameter / 2);
            sum += l->neck.width * l->neck.down * away;
        }
    }
    return sum;
}

static MouldLayout *
solve(const MouldWish *wish, MouldWay *way, MouldPlace *place)
{
    g_assert_true(mould_place_search(wish, way, place));
    MouldLayout *l = mould_layout_new();
    l->length = wish->length;
    l->width = wish->width;
    mould_build(l, wish, way, place);
    l->growth = 1;
    const double as_it_is[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) box = check_mesh_box(wish->box_x, wish->box_y, wish->above + wish->below);
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(
        box, as_it_is, vec3(-wish->box_x / 2, -wish->box_y / 2, -wish->below));
    g_autoptr(MouldBody) body = mould_body_new(mesh, NULL, 0.002, NULL, NULL);
    mould_cover_measure(l, body, NULL);
    return l;
}

static void
check_layout(const MouldWish *wish, guint least)
{
    MouldWay way;
    MouldPlace place;
    g_autoptr(MouldLayout) l = solve(wish, &way, &place);
    g_assert_cmpuint(l->n_cavities, >=, least);
    g_assert_cmpfloat(l->cover_wall, >=, wish->cover_wall - 1e-9);
    if (l->n_cavities > 1)
        g_assert_cmpfloat(l->cover_between, >=, wish->cover_between - 1e-9);
    g_assert_cmpfloat(l->cover_sprue, >=, wish->cover_runner - 1e-9);
    g_assert_cmpfloat(l->cover_runner, >=, wish->cover_runner - 1e-9);
    g_assert_cmpuint(wish_over_well(l), ==, 0);
    check_close(l->metal_volume, drawn_volume(l, wish), 1e-9, "shapes of the drawing");
    const MouldPour *p = &place.pour;
    double rest = drawn_volume(l, wish) - l->n_cavities * wish->cavity_volume;
    double mass = l->n_cavities * wish->cavity_mass + rest * wish->density;
    check_close(l->metal_mass, mass, 1e-9, "castings at their own mass, the rest as poured");
    check_close(p->choke,
                mould_choke_area(mass, wish->density, l->fill_time, wish->discharge,
                                 wish->mean_head, MOULD_GRAVITY),
                1e-9, "choke for the metal that is drawn");
    g_assert_cmpfloat(p->peak_flow / p->gate_area, <=, 0.5);
    check_close(l->gates[0].width * l->gates[0].depth * l->n_gates, p->gate_area, 1e-12, "gates");
    check_close(l->runners[0].width * l->runners[0].depth * l->n_runners, 4 * p->choke, 1e-9,
                "runner ratio");
}

static void
test_without_risers(void)
{
    MouldWish wish = wish_of(0.3, 0.22);
    check_layout(&wish, 6);
    wish.attach_u[0] = 0.011;
    wish.attach_v[0] = -0.009;
    wish.attach_u[1] = -0.004;
    check_layout(&wish, 4);
    wish.cover_runner = 0.0311; // more than between, and less
    check_layout(&wish, 2);
    wish.cover_runner = 0.0087;
    check_layout(&wish, 6);
}

static void
test_with_risers(void)
{
    MouldWish wish = wish_of(0.3, 0.22);
    wish.riser_diameter = wish.riser_height = 0.0283;
    wish.neck = 0.0141;
    check_layout(&wish, 2);
    wish.riser_diameter = wish.riser_height = 0.0413; // wider than the casting
    wish.attach_u[0] = 0.017;
    check_layout(&wish, 1);
}

static void
test_cap_and_balance(void)
{
    MouldWish wish = wish_of(0.3, 0.22);
    for (int most = 1; most <= 6; most++) {
        wish.most = most;
        MouldWay way;
        MouldPlace place;
        g_autoptr(MouldLayout) l = solve(&wish, &way, &place);
        g_assert_cmpuint(l->n_cavities, <=, (guint)most);
        g_assert_cmpuint(l->n_cavities, >=, (guint)MAX(1, most - 1));
        g_assert_cmpint(way.rows * way.columns, ==, (int)l->n_cavities);
    }
}

static void
test_fits_only_one_way(void)
{
    // Long part: fits along the flask, not across.
    MouldWish wish = wish_of(0.3, 0.22);
    wish.box_x = 0.043;
    wish.box_y = 0.237;
    wish.attach_v[0] = -0.237 / 2;
    wish.attach_v[1] = -0.043 / 2;
    check_layout(&wish, 1);
}

static void
test_too_large(void)
{
    MouldWish wish = wish_of(0.3, 0.22);
    wish.box_x = 0.31;
    MouldWay way;
    MouldPlace place;
    g_assert_false(mould_place_search(&wish, &way, &place));
    double along = way.axis ? place.need_v : place.need_u;
    double across = way.axis ? place.need_u : place.need_v;
    // What it asks for does.
    wish.length = along * 1.0001;
    wish.width = MAX(across * 1.0001, wish.width);
    g_assert_cmpfloat(wish.length, >, 0.31 + 2 * 0.025);
    g_assert_true(mould_place_search(&wish, &way, &place));
}

static void
test_neck(void)
{
    MouldWish wish = wish_of(0.3, 0.22);
    g_assert_cmpfloat(mould_place_neck(&wish, 0).width, ==, 0);
    wish.riser_diameter = wish.riser_height = 0.0413;
    wish.neck = 0.0137;
    // Lower than a round one: wider, with the same modulus, and inside the casting.
    MouldNeck n = mould_place_neck(&wish, 1);
    double high = n.up + n.down;
    check_close(high, 0.0102, 1e-12, "all of the casting's height");
    check_close(n.up, 0.0062, 1e-12, "over the parting");
    check_close(n.width * high / (2 * (n.width + high)), 0.0137 / 4, 1e-12, "D/4 of a round bar");
    // Little over the parting: the rest hangs below it.
    wish.joint_above[1] = 0.0031;
    wish.joint_below[1] = 0.0373;
    n = mould_place_neck(&wish, 1);
    check_close(n.up, 0.0031, 1e-12, "as the casting");
    check_close(n.down, 0.0137 - 0.0031, 1e-12, "the rest");
    check_close(n.width, 0.0137, 1e-12, "square");
    // Too low for any width: as wide as the riser.
    wish.joint_below[1] = 0.0021;
    check_close(mould_place_neck(&wish, 1).width, 0.0413, 1e-12, "riser");
    // Or as the lug it joins, whatever its modulus then is.
    wish.joint_width[1] = 0.0091;
    check_close(mould_place_neck(&wish, 1).width, 0.0091, 1e-12, "lug");
}

static void
test_too_deep(void)
{
    MouldWish wish = wish_of(0.3, 0.22);
    g_assert_true(mould_place_is_deep_enough(&wish));
    wish.above = 0.0901;
    g_assert_false(mould_place_is_deep_enough(&wish));
    wish = wish_of(0.3, 0.22);
    wish.below = 0.093;
    g_assert_false(mould_place_is_deep_enough(&wish));
}

static void
test_hurried(void)
{
    // Too short a time asked for: gates reach their largest and the speed says so.
    MouldWish wish = wish_of(0.3, 0.22);
    wish.fill_time = 0.2;
    wish.most = 2;
    MouldWay way = {0, 0, 1, 2};
    MouldPlace place = mould_place_solve(&wish, &way);
    check_close(place.pour.gate_area, place.pour.gate_most, 1e-12, "capped");
    g_assert_cmpfloat(place.pour.peak_flow / place.pour.gate_area, >, 0.5);
}

static void
test_pour_factor(void)
{
    // One row of thick walls that could wait a minute: the factor decides, then the least choke.
    MouldWish wish = wish_of(0.3, 0.22);
    wish.wall_time = 63;
    wish.wall = 0.0161;
    wish.most = 2;
    wish.pour_factor = 2.13;
    MouldWay way = {0, 0, 1, 2};
    MouldPlace place = mould_place_solve(&wish, &way);
    check_close(place.pour.fill_time, 2.13 * pow(place.pour.mass, 1 / 3.0), 1e-12, "S W^(1/3)");
    double gate = place.pour.gate_width * place.pour.gate_depth /
                  (2 * (place.pour.gate_width + place.pour.gate_depth));
    g_assert_cmpfloat(place.pour.channel, <=, gate * (1 + 1e-12));
    g_assert_cmpfloat(place.pour.channel, <=, place.pour.sprue_bottom / 4 * (1 + 1e-12));
    wish.pour_factor = 19;
    place = mould_place_solve(&wish, &way);
    check_close(place.pour.choke, MOULD_LEAST_CHOKE, 1e-12, "8 mm across");
    check_close(place.pour.fill_time, place.pour.slow_time, 1e-12, "through the least choke");
}

static void
test_attach(void)
{
    SolidPoint points[4];
    guint starts[2];
    SolidOutline box = box_outline(points, starts, 0.051, 0.023);
    double u, v;
    mould_place_attach(&box, 1.013, 0, &u, &v);
    check_close(v, -0.0115 * 1.013, 1e-12, "front face");
    g_assert_cmpfloat(fabs(u), <=, 1e-12);
    mould_place_attach(&box, 1, 1, &u, &v);
    check_close(v, -0.0255, 1e-12, "turned a quarter");
    // A diamond moved aside: its foremost corner is not at the middle.
    SolidPoint wedge[3] = {{-0.02, 0.02}, {0.015, -0.02}, {0.02, 0.02}};
    guint wedge_starts[2] = {0, 3};
    SolidOutline outline = {wedge, 3, wedge_starts, 1};
    mould_place_attach(&outline, 1, 0, &u, &v);
    check_close(u, 0.015, 1e-12, "foremost point");
    check_close(v, -0.02, 1e-12, "foremost point");
}

static void
test_polygon_distance(void)
{
    SolidPoint a[3] = {{0, 0}, {1, 0}, {0, 1}}, b[3] = {{1, 1}, {2, 1}, {1, 2}}, p, q;
    check_close(mould_polygon_distance(a, 3, b, 3, &p, &q), sqrt(0.5), 1e-12,
                "corner (1,1) to the line x + y = 1");
    check_close(p.x + p.y, 1, 1e-12, "on the line");
    SolidPoint c[3] = {{0.2, 0.2}, {2, 0.3}, {2, 2}};
    g_assert_cmpfloat(mould_polygon_distance(a, 3, c, 3, &p, &q), ==, 0);
}

// A flat neck of height h as wide as the riser, D, has the modulus D h / 2 (D + h): with a round
// neck of d = D / 2 that is 0.91 d / 4 at h = 0.5892 d.
static void
test_has_neck(void)
{
    MouldWish wish = wish_of(0.31, 0.27);
    double d = 0.0113;
    wish.neck = d;
    g_assert_true(mould_place_has_neck(&wish, 0)); // no riser, no neck
    wish.riser_diameter = 2 * d;
    wish.n_stances = 3;
    for (int i = 0; i < 3; i++)
        wish.stances[i].turn = i * G_PI / 2;
    const double heights[3] = {0.595 * d, 0.583 * d, 1.3 * d};
    for (int i = 0; i < 3; i++) {
        wish.joint_above[i] = 0.3 * heights[i];
        wish.joint_below[i] = 0.7 * heights[i];
        g_assert_cmpint(mould_place_nearest(&wish, i * G_PI / 2 + 0.3), ==, i);
        g_assert_cmpint(mould_place_nearest(&wish, i * G_PI / 2 - 4 * G_PI), ==, i);
        g_assert_cmpint(mould_place_has_neck(&wish, i * G_PI / 2 - 2 * G_PI), ==, i != 1);
    }
    g_assert_true(mould_place_has_neck(&wish, G_PI / 2 + 0.1)); // not known there
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/place/without-risers", test_without_risers);
    g_test_add_func("/mould/place/with-risers", test_with_risers);
    g_test_add_func("/mould/place/cap", test_cap_and_balance);
    g_test_add_func("/mould/place/one-way", test_fits_only_one_way);
    g_test_add_func("/mould/place/too-large", test_too_large);
    g_test_add_func("/mould/place/neck", test_neck);
    g_test_add_func("/mould/place/has-neck", test_has_neck);
    g_test_add_func("/mould/place/too-deep", test_too_deep);
    g_test_add_func("/mould/place/hurried", test_hurried);
    g_test_add_func("/mould/place/pour-factor", test_pour_factor);
    g_test_add_func("/mould/place/attach", test_attach);
    g_test_add_func("/mould/place/distance", test_polygon_distance);
    return g_test_run();
}
