// SPDX-License-Identifier: GPL-3.0-or-later
// Cavities placed by hand: where runner, gates and sprue go, what misses, moves; pitches of rows.
#include <math.h>
#include <string.h>

#include "check.h"
#include "mould/alternate.h"
#include "mould/build.h"
#include "mould/cover.h"
#include "mould/fixed.h"
#include "mould/polygon.h"
#include "solid/outline.h"
#include "wish.h"

static SolidOutline *
outline_of(const SolidPoint *points, guint n)
{
    GArray *p = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    guint first = 0;
    g_array_append_vals(p, points, n);
    g_array_append_val(starts, first);
    return solid_outline_take(p, starts);
}

static SolidOutline *
rectangle(double x, double y)
{
    const SolidPoint p[4] = {{-x / 2, -y / 2}, {x / 2, -y / 2}, {x / 2, y / 2}, {-x / 2, y / 2}};
    return outline_of(p, 4);
}

static void
test_shift(void)
{
    g_autoptr(SolidOutline) box = rectangle(0.0517, 0.0313);
    check_close(mould_stance_shift(box, box, 0.0203), 0.0517 + 0.0203, 1e-12, "side by side");
    // Turned by t, thin bars one above the other: length of the shift is thickness and sand over
    // the sine, while corners do not get there first.
    g_autoptr(SolidOutline) bar = rectangle(0.21, 0.017);
    double turn = 0.9;
    g_autoptr(SolidOutline) turned = mould_stance_turned(bar, turn);
    check_close(mould_stance_shift(turned, turned, 0.0203), (0.017 + 0.0203) / sin(turn), 1e-9,
                "parallel sides");
    // Discs (as polygons of many sides).
    SolidPoint round[720];
    for (int i = 0; i < 720; i++)
        round[i] = (SolidPoint){0.031 * cos(G_PI * i / 360), 0.031 * sin(G_PI * i / 360)};
    g_autoptr(SolidOutline) disc = outline_of(round, 720);
    check_close(mould_stance_shift(disc, disc, 0.0203), 2 * 0.031 + 0.0203, 1e-5, "two discs");
    // Far apart across: nothing to keep clear of.
    SolidPoint over[3] = {{0, 1}, {0.1, 1}, {0, 1.1}};
    g_autoptr(SolidOutline) away = outline_of(over, 3);
    g_assert_cmpfloat(mould_stance_shift(box, away, 0.02), ==, 0);
}

// Whatever the outline: at the shift the sand is what was asked for, and beyond it no less.
static void
test_shift_holds(void)
{
    const SolidPoint hook[6] = {{-0.03, -0.02},   {0.03, -0.025},  {0.028, -0.005},
                                {-0.011, -0.003}, {-0.009, 0.027}, {-0.031, 0.03}};
    g_autoptr(SolidOutline) o = outline_of(hook, 6);
    for (int i = 0; i < 24; i++) {
        g_autoptr(SolidOutline) a = mould_stance_turned(o, i * 0.2717);
        g_autoptr(SolidOutline) b = mould_stance_turned(a, i % 2 * G_PI);
        double shift = mould_stance_shift(a, b, 0.0151), least = INFINITY;
        for (int k = 0; k < 40; k++) {
            SolidPoint moved[6], p, q;
            for (int j = 0; j < 6; j++)
                moved[j] = (SolidPoint){b->points[j].x + shift + k * 0.0013, b->points[j].y};
            double d = mould_polygon_distance(a->points, 6, moved, 6, &p, &q);
            if (k == 0)
                check_close(d, 0.0151, 1e-9, "distance of all sides");
            least = fmin(least, d);
        }
        g_assert_cmpfloat(least, >=, 0.0151 - 1e-12);
    }
}

static MouldLayout *
make_layout(const MouldWish *wish, const PlacementSpot *spots, guint n, double x, double y,
            MouldPour *pour)
{
    MouldLayout *l = mould_layout_new();
    l->length = wish->length;
    l->width = wish->width;
    l->cope = wish->cope;
    l->drag = wish->drag;
    l->growth = 1;
    g_autoptr(SolidOutline) box = rectangle(wish->box_x, wish->box_y);
    l->fixed = mould_fixed_new(wish, box, box);
    mould_fixed_build(l, l->fixed, spots, n, x, y, -1, pour);
    const double as_it_is[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) block = check_mesh_box(wish->box_x, wish->box_y, 0.0102);
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(
        block, as_it_is, vec3(-wish->box_x / 2, -wish->box_y / 2, -wish->below));
    g_autoptr(MouldBody) body = mould_body_new(mesh, box, 0.002, NULL, NULL);
    mould_cover_measure(l, body, NULL);
    return l;
}

static void
check_gates(const MouldLayout *l, const MouldWish *wish)
{
    for (guint i = 0; i < l->n_gates; i++) {
        const MouldChannel *g = &l->gates[i];
        const MouldCavity *c = &l->cavities[i];
        // Square to the runner and from its line.
        check_close(l->axis ? g->y1 - g->y2 : g->x1 - g->x2, 0, 1e-12, "square");
        check_close(l->axis ? g->x1 - l->sprue_x : g->y1 - l->sprue_y, 0, 1e-12, "on the line");
        // The neck's end lies on the skin of the box.
        double dx = c->neck_x - c->x, dy = c->neck_y - c->y;
        double u = cos(c->turn) * dx + sin(c->turn) * dy, v = cos(c->turn) * dy - sin(c->turn) * dx;
        double off = fmax(fabs(u) - wish->box_x / 2, fabs(v) - wish->box_y / 2);
        check_close(off, 0, 1e-9, "on the skin");
        if (isnan(c->riser_x))
            check_close(hypot(g->x2 - c->neck_x, g->y2 - c->neck_y), 0, 1e-9, "gate's end");
        else
            check_close(hypot(g->x2 - c->riser_x, g->y2 - c->riser_y), wish->riser_diameter / 2,
                        1e-9, "riser's edge");
    }
}

static const PlacementSpot four[4] = {{-0.1, 0.071, 0, TRUE},
                                      {0.093, 0.068, 0.3, FALSE},
                                      {-0.09, -0.074, G_PI, FALSE},
                                      {0.1, -0.069, 2.2, FALSE}};

static void
test_two_rows(void)
{
    MouldWish wish = wish_of(0.4, 0.3);
    for (int riser = 0; riser < 2; riser++) {
        wish.riser_diameter = wish.riser_height = riser * 0.0213;
        wish.neck = riser * 0.009;
        MouldPour pour;
        g_autoptr(MouldLayout) l = make_layout(&wish, four, 4, NAN, NAN, &pour);
        // With risers there is more room between the columns.
        g_assert_cmpint(l->axis, ==, riser);
        g_assert_cmpuint(l->gates_missing, ==, 0);
        g_assert_cmpfloat(fabs(l->axis ? l->sprue_x : l->sprue_y), <, 0.02);
        check_gates(l, &wish);
        check_close(pour.volume, mould_fixed_volume(l, l->fixed), 1e-12, "as drawn");
        check_close(l->metal_volume, pour.volume, 0, "the layout's own");
        check_close(l->gates[0].width * l->gates[0].depth * 4, pour.gate_area, 1e-12, "gates");
    }
}

static void
test_sprue_by_hand(void)
{
    MouldWish wish = wish_of(0.4, 0.3);
    MouldPour pour;
    g_autoptr(MouldLayout) l = make_layout(&wish, four, 4, -0.013, 0.0071, &pour);
    check_close(l->sprue_x, -0.013, 1e-12, "given");
    check_close(l->sprue_y, 0.0071, 1e-12, "given");
    check_gates(l, &wish);
    // Beyond all gates: one runner reaches them all.
    g_autoptr(MouldLayout) end = make_layout(&wish, four, 4, -0.16, 0, &pour);
    g_assert_cmpuint(end->n_runners, ==, 1);
    g_assert_cmpint(pour.arms, ==, 1);
    check_close(end->runners[0].x1, -0.16 + end->well_diameter / 2, 1e-9, "from the well");
}

static void
test_misses(void)
{
    MouldWish wish = wish_of(0.4, 0.3);
    MouldPour pour;
    // The runner is made to run through a cavity, whichever axis it takes.
    PlacementSpot spots[2] = {{-0.1, 0.005, 0, FALSE}, {0.002, 0.1, 0, FALSE}};
    g_autoptr(MouldLayout) l = make_layout(&wish, spots, 2, 0, 0, &pour);
    g_assert_cmpuint(l->gates_missing - l->gates_at_well, ==, 1);
    g_assert_cmpfloat(l->cover_runner, ==, 0);
    // One behind another, seen from a runner at either axis.
    PlacementSpot behind[2] = {{0, 0.05, 0, FALSE}, {0, 0.11, 0, FALSE}};
    g_autoptr(MouldLayout) blocked = make_layout(&wish, behind, 2, 0.05, 0, &pour);
    if (blocked->axis == 0)
        g_assert_cmpuint(blocked->gates_missing - blocked->gates_at_well, ==, 1);
    else
        g_assert_cmpuint(blocked->gates_missing, ==, blocked->gates_at_well);
    // Out of the flask: measured, not refused.
    PlacementSpot out[1] = {{0.3, 0.02, 0, FALSE}};
    g_autoptr(MouldLayout) outside = make_layout(&wish, out, 1, NAN, NAN, &pour);
    g_assert_cmpfloat(outside->cover_wall, <, 0);
}

// Two rows against one another, ever further along: with the sprue between gates or, where these
// leave no room for its well, beside them. Every gate that lies over the well is said to.
static void
test_well(void)
{
    MouldWish wish = wish_of(0.5, 0.3);
    wish.gate_ratio = 9.7;
    MouldPour pour;
    guint over = 0;
    double narrow = INFINITY, wide = 0;
    for (int i = 0; i <= 40; i++) {
        double aside = 0.0013 * i;
        const PlacementSpot spots[4] = {{-0.027, 0.06, 0, FALSE},
                                        {0.027, 0.06, 0, FALSE},
                                        {-0.027 + aside, -0.06, 0, FALSE},
                                        {0.027 + aside, -0.06, 0, FALSE}};
        g_autoptr(MouldLayout) l = make_layout(&wish, spots, 4, NAN, NAN, &pour);
        g_assert_cmpuint(l->gates_at_well, ==, wish_over_well(l));
        g_assert_cmpuint(l->gates_missing, ==, l->gates_at_well);
        over += l->gates_at_well > 0;
        narrow = fmin(narrow, l->gates[0].width);
        wide = fmax(wide, l->gates[0].width);
        // A sprue that is put there stays, whatever lies over it.
        g_autoptr(MouldLayout) put = make_layout(&wish, spots, 4, 0.003, 0, &pour);
        check_close(put->sprue_x, 0.003, 1e-12, "as put");
        g_assert_cmpuint(put->gates_at_well, ==, wish_over_well(put));
    }
    g_test_message("%u of 41 with gates over the well, gates of %g to %g", over, narrow, wide);
    g_assert_cmpfloat(narrow, <, wide);
    g_assert_cmpuint(over, >, 0);
    g_assert_cmpuint(over, <, 41);
}

// The program's own rows, placed by hand with its own sprue, have gates that keep off the well too,
// and metal as it is drawn.
static void
test_own_rows(void)
{
    static const double cases[][4] = {// box, riser, height
                                      {0.0270, 0.0790, 0.0187, 0.0131},
                                      {0.0233, 0.0311, 0.0245, 0.0217},
                                      {0.0517, 0.0313, 0, 0.0102},
                                      {0.0171, 0.0239, 0.0127, 0.0173},
                                      {0.0311, 0.0187, 0, 0.0379}};
    for (guint i = 0; i < 2 * G_N_ELEMENTS(cases); i++) {
        const double *c = cases[i / 2];
        MouldWish wish = wish_of(0.417, 0.311);
        wish.box_x = c[0];
        wish.box_y = c[1];
        wish.riser_diameter = wish.riser_height = c[2];
        wish.neck = c[2] / 2;
        wish.above = c[3] / 2;
        wish.below = c[3] / 2;
        wish.cavity_volume = 0.7 * c[0] * c[1] * c[3];
        wish.cavity_mass = 2600 * wish.cavity_volume;
        wish.choke = i % 2 ? 1.9e-4 : 0; // as a person set it
        wish.attach_v[0] = -c[1] / 2;
        wish.attach_v[1] = -c[0] / 2;
        for (int k = 0; k < 2; k++)
            wish.joint_above[k] = wish.joint_below[k] = c[3] / 2;
        MouldWay way;
        MouldPlace place;
        g_assert_true(mould_place_search(&wish, &way, &place));
        g_autoptr(MouldLayout) rows = mould_layout_new();
        mould_build(rows, &wish, &way, &place);
        g_assert_cmpuint(rows->gates_at_well + wish_over_well(rows), ==, 0);
        g_autofree PlacementSpot *spots = g_new0(PlacementSpot, rows->n_cavities);
        for (guint k = 0; k < rows->n_cavities; k++)
            spots[k] = (PlacementSpot){rows->cavities[k].x, rows->cavities[k].y,
                                       rows->cavities[k].turn, FALSE};
        g_autoptr(SolidOutline) box = rectangle(c[0], c[1]);
        g_autoptr(MouldFixed) fixed = mould_fixed_new(&wish, box, box);
        g_autoptr(MouldLayout) l = mould_layout_new();
        MouldPour pour;
        mould_fixed_build(l, fixed, spots, rows->n_cavities, rows->sprue_x, rows->sprue_y, way.axis,
                          &pour);
        g_assert_cmpuint(l->gates_at_well + wish_over_well(l), ==, 0);
        check_close(pour.volume, mould_fixed_volume(l, fixed), 1e-9, "as drawn");
    }
}

static void
test_moved(void)
{
    MouldWish wish = wish_of(0.4, 0.3);
    MouldPour pour;
    g_autoptr(MouldLayout) l = make_layout(&wish, four, 4, NAN, NAN, &pour);
    PlacementSpot spots[4];
    memcpy(spots, four, sizeof four);
    spots[2].x += 0.0123;
    spots[2].turn += 0.2;
    g_autoptr(MouldLayout) moved = mould_layout_moved(l, spots, 4, l->sprue_x, l->sprue_y);
    g_autoptr(MouldLayout) anew = make_layout(&wish, spots, 4, l->sprue_x, l->sprue_y, &pour);
    check_close(moved->cover_between, anew->cover_between, 1e-12, "from nothing");
    check_close(moved->cover_wall, anew->cover_wall, 1e-12, "from nothing");
    check_close(moved->cover_sprue, anew->cover_sprue, 1e-12, "from nothing");
    check_close(moved->metal_mass, anew->metal_mass, 1e-12, "from nothing");
    check_gates(moved, &wish);
    check_close(l->cavities[2].x, four[2].x, 0, "the old one stays as it was");
    g_autoptr(MouldLayout) empty = mould_layout_new();
    g_assert_null(mould_layout_moved(empty, spots, 4, NAN, NAN));
}

// What is shown while a cavity is moved has the runner the plan will have: on whichever axis is the
// better then. Only the sprue moved, the program's own rows keep theirs.
static void
test_moved_axis(void)
{
    MouldWish wish = wish_of(0.4, 0.3);
    MouldPour pour;
    const PlacementSpot flat[2] = {{-0.1, 0.07, 0, FALSE}, {0.1, 0.07, 0, FALSE}};
    g_autoptr(MouldLayout) l = make_layout(&wish, flat, 2, NAN, NAN, &pour);
    PlacementSpot spots[2];
    memcpy(spots, flat, sizeof flat);
    int turned = 0;
    MouldLayout *now = mould_layout_ref(l);
    for (int i = 0; i <= 16; i++) {
        double way = G_PI / 2 * i / 16;
        spots[0] = (PlacementSpot){-0.11 * cos(way), -0.09 * sin(way), way, FALSE};
        spots[1] = (PlacementSpot){0.11 * cos(way), 0.09 * sin(way), way, FALSE};
        MouldLayout *next = mould_layout_moved(now, spots, 2, NAN, NAN);
        g_autoptr(MouldLayout) anew = make_layout(&wish, spots, 2, NAN, NAN, &pour);
        g_assert_cmpint(next->axis, ==, anew->axis);
        g_assert_true(next->by_hand);
        turned += next->axis != l->axis;
        mould_layout_unref(now);
        now = next;
    }
    g_assert_cmpint(turned, >, 0);
    mould_layout_unref(now);
    l->by_hand = FALSE;
    for (int axis = 0; axis < 2; axis++) {
        l->axis = axis;
        g_autoptr(MouldLayout) once = mould_layout_moved(l, flat, 2, 0.004, -0.01);
        g_autoptr(MouldLayout) twice = mould_layout_moved(once, flat, 2, 0.009, -0.01);
        g_assert_cmpint(once->axis, ==, axis);
        g_assert_cmpint(twice->axis, ==, axis);
        g_assert_false(twice->by_hand);
    }
}

// A round flask and one with leaning walls hold what they are said to hold.
static void
test_round(void)
{
    for (int draft = 0; draft < 2; draft++) {
        MouldWish wish = wish_of(0.4, 0.3);
        wish.round = TRUE;
        wish.length = wish.width = 0.37;
        wish.wall_draft = draft * 0.1;
        MouldWay way;
        MouldPlace place;
        g_assert_true(mould_place_search(&wish, &way, &place));
        g_autoptr(MouldLayout) l = mould_layout_new();
        l->length = l->width = wish.length;
        l->round = TRUE;
        l->wall_draft = wish.wall_draft;
        l->cope = l->drag = 0.09;
        mould_build(l, &wish, &way, &place);
        const double as_it_is[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
        g_autoptr(SolidMesh) block = check_mesh_box(wish.box_x, wish.box_y, 0.0102);
        g_autoptr(SolidMesh) mesh = solid_mesh_transformed(
            block, as_it_is, vec3(-wish.box_x / 2, -wish.box_y / 2, -wish.below));
        g_autoptr(MouldBody) body = mould_body_new(mesh, NULL, 0.002, NULL, NULL);
        mould_cover_measure(l, body, NULL);
        g_assert_cmpuint(l->n_cavities, >=, 4);
        g_assert_cmpfloat(l->cover_wall, >=, wish.cover_wall - 1e-9);
    }
}

// Wedges: half-turned neighbours stand closer, and all sand is kept.
static void
test_alternate(void)
{
    for (int riser = 0; riser < 2; riser++) {
        MouldWish wish = wish_of(0.4, 0.3);
        const SolidPoint p[3] = {{-0.0311, -0.0263}, {0.0297, -0.0259}, {0.0011, 0.0417}};
        g_autoptr(SolidOutline) o = outline_of(p, 3);
        wish.box_x = 0.0622;
        wish.box_y = 0.0834;
        wish.riser_diameter = wish.riser_height = riser * 0.0213;
        wish.neck = riser * 0.009;
        wish.n_stances = 4;
        MouldRow row = {wish.riser_diameter, 0.5 * wish.neck, wish.cover_between, NULL};
        for (int i = 0; i < 4; i++) {
            wish.stances[i] = mould_stance(o, o, i * G_PI / 2, &row);
            wish.attach_u[i] = wish.stances[i].attach_u;
            wish.attach_v[i] = wish.stances[i].attach_v;
            wish.joint_above[i] = wish.above;
            wish.joint_below[i] = wish.below;
        }
        g_autoptr(MouldFixed) fixed = mould_fixed_new(&wish, o, o);
        MouldPair pair = mould_alternate_pair(fixed, 0);
        // The gate keeps its own distance, else the slope would: by a third of the width.
        g_assert_cmpfloat(pair.there + pair.back, <, 2 * wish.stances[0].pitch - 0.01);
        MouldWay way;
        MouldPlace place;
        g_assert_true(mould_place_search(&wish, &way, &place));
        int axis;
        double x, y;
        for (guint least = 0; least < 12; least++) {
            g_autoptr(GArray) spots = mould_alternate_search(fixed, least, &axis, &x, &y);
            if (!spots)
                continue;
            g_assert_cmpuint(spots->len, >, least);
            g_autoptr(MouldLayout) l = mould_layout_new();
            MouldPour pour;
            l->length = wish.length;
            l->width = wish.width;
            l->cope = l->drag = 0.09;
            mould_fixed_build(l, fixed, (PlacementSpot *)spots->data, spots->len, x, y, axis,
                              &pour);
            g_assert_cmpuint(l->gates_missing, ==, 0);
            g_autoptr(SolidMesh) mesh = solid_mesh_new(6, 8);
            for (int i = 0; i < 6; i++)
                mesh->vertices[i] = vec3(p[i % 3].x, p[i % 3].y, i < 3 ? -0.004 : 0.0062);
            const guint32 sides[8][3] = {{0, 2, 1}, {3, 4, 5}, {0, 1, 4}, {0, 4, 3},
                                         {1, 2, 5}, {1, 5, 4}, {2, 0, 3}, {2, 3, 5}};
            memcpy(mesh->triangles, sides, sizeof sides);
            g_autoptr(MouldBody) body = mould_body_new(mesh, o, 0.002, NULL, NULL);
            mould_cover_measure(l, body, NULL);
            g_assert_cmpfloat(l->cover_between, >=, wish.cover_between - 1e-6);
            g_assert_cmpfloat(l->cover_wall, >=, wish.cover_wall - 1e-6);
            g_assert_cmpfloat(l->cover_runner, >=, wish.cover_between - 1e-6);
            g_assert_cmpfloat(l->cover_sprue, >=, wish.cover_between - 1e-6);
        }
        g_autoptr(GArray) more = mould_alternate_search(fixed, (guint)(way.rows * way.columns),
                                                        &axis, &x, &y);
        g_test_message("%d in plain rows, %u alternating", way.rows * way.columns,
                       more ? more->len : 0);
        g_autoptr(GArray) none = mould_alternate_search(fixed, 100, &axis, &x, &y);
        g_assert_null(none);
    }
}

// A wedge lies 6.2 mm over the parting on one side and 2.9 mm on the other, and the other way round
// under it: the neck of two that face the runner with different sides fits both.
static void
test_neck_of_both(void)
{
    MouldWish wish = wish_of(0.31, 0.27);
    wish.riser_diameter = 0.0257;
    wish.riser_height = 0.0331;
    wish.neck = 0.0083;
    g_autoptr(SolidOutline) box = rectangle(wish.box_x, wish.box_y);
    MouldRow row = {wish.riser_diameter, 0.5 * wish.neck, wish.cover_between, NULL};
    const double above[4] = {0.0062, 0.0047, 0.0029, 0.0047};
    const double below[4] = {0.0017, 0.0031, 0.004, 0.0031};
    wish.n_stances = 4;
    for (int i = 0; i < 4; i++) {
        wish.stances[i] = mould_stance(box, box, i * G_PI / 2, &row);
        wish.attach_u[i] = wish.stances[i].attach_u;
        wish.attach_v[i] = wish.stances[i].attach_v;
        wish.joint_above[i] = above[i];
        wish.joint_below[i] = below[i];
    }
    // Turned alike on either side of a runner along the length; turned by half, alone, they differ.
    const PlacementSpot spots[] = {{-0.041, 0.081, 0, FALSE, FALSE},
                                   {0.043, -0.079, 0, FALSE, FALSE}};
    g_autoptr(MouldFixed) fixed = mould_fixed_new(&wish, box, box);
    for (guint n = 1; n <= 2; n++) {
        g_autoptr(MouldLayout) l = mould_layout_new();
        MouldPour pour;
        l->length = wish.length;
        l->width = wish.width;
        mould_fixed_build(l, fixed, spots, n, NAN, 0, 0, &pour);
        double up = n == 1 ? 0.0062 : 0.0029, high = up + 0.0017;
        check_close(l->neck.joint_above, up, 1e-12, "the lower of them");
        check_close(l->neck.joint_below, 0.0017, 1e-12, "the less deep");
        check_close(l->neck.up + l->neck.down, high, 1e-12, "all of the casting's height");
        g_assert_cmpfloat(l->neck.up, <=, up + 1e-12);
        g_assert_cmpfloat(l->neck.down, <=, 0.0017 + 1e-12);
        // Area over outline as of a round one, w h / 2 (w + h) = d / 4, or as wide as the riser.
        double width = 0.0083 < 2 * high ? fmin(0.0257, 0.0083 * high / (2 * high - 0.0083))
                                         : 0.0257;
        check_close(l->neck.width, width, 1e-9, "the same modulus");
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/fixed/shift", test_shift);
    g_test_add_func("/mould/fixed/shift-holds", test_shift_holds);
    g_test_add_func("/mould/fixed/two-rows", test_two_rows);
    g_test_add_func("/mould/fixed/sprue", test_sprue_by_hand);
    g_test_add_func("/mould/fixed/misses", test_misses);
    g_test_add_func("/mould/fixed/moved", test_moved);
    g_test_add_func("/mould/fixed/moved-axis", test_moved_axis);
    g_test_add_func("/mould/fixed/well", test_well);
    g_test_add_func("/mould/fixed/own-rows", test_own_rows);
    g_test_add_func("/mould/fixed/neck-of-both", test_neck_of_both);
    g_test_add_func("/mould/fixed/round", test_round);
    g_test_add_func("/mould/fixed/alternate", test_alternate);
    return g_test_run();
}
