// SPDX-License-Identifier: GPL-3.0-or-later
// The rest placed round locked cavities: those never move, sand is kept, gates reach, and there are
// no fewer than plain rows hold.
#include <math.h>

#include "check.h"
#include "mould/beside.h"
#include "mould/build.h"
#include "mould/cover.h"
#include "mould/rest.h"
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

// Boxes that may stand as drawn, on end, and both turned by half.
static MouldFixed *
fixed_of(MouldWish *wish)
{
    double x = wish->box_x / 2, y = wish->box_y / 2;
    const SolidPoint p[4] = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
    g_autoptr(SolidOutline) box = outline_of(p, 4);
    MouldBeside beside = mould_place_beside(wish);
    MouldRow row = {wish->riser_diameter, 0.5 * wish->neck, wish->cover_between, &beside};
    wish->n_stances = 4;
    for (int i = 0; i < 4; i++) {
        wish->stances[i] = mould_stance(box, box, i * G_PI / 2, &row);
        wish->attach_u[i] = wish->stances[i].attach_u;
        wish->attach_v[i] = wish->stances[i].attach_v;
        wish->joint_above[i] = wish->above;
        wish->joint_below[i] = wish->below;
    }
    return mould_fixed_new(wish, box, box);
}

static MouldLayout *
lay_out(const MouldFixed *fixed, const MouldRest *rest)
{
    const MouldWish *wish = &fixed->wish;
    MouldLayout *l = mould_layout_new();
    l->length = wish->length;
    l->width = wish->width;
    l->cope = wish->cope;
    l->drag = wish->drag;
    l->round = wish->round;
    l->growth = 1;
    MouldPour pour;
    mould_fixed_build(l, fixed, (PlacementSpot *)(gpointer)rest->spots->data, rest->spots->len,
                      rest->sprue_x, rest->sprue_y, rest->axis, &pour);
    const double as_it_is[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) block = check_mesh_box(wish->box_x, wish->box_y, 0.0102);
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(
        block, as_it_is, vec3(-wish->box_x / 2, -wish->box_y / 2, -wish->below));
    g_autoptr(MouldBody) body = mould_body_new(mesh, fixed->shadow, 0.002, NULL, NULL);
    mould_cover_measure(l, body, NULL);
    return l;
}

// Measured in space, by another way than they were placed.
static void
check_sand(const MouldFixed *fixed, const MouldRest *rest)
{
    const MouldWish *wish = &fixed->wish;
    g_autoptr(MouldLayout) l = lay_out(fixed, rest);
    g_assert_cmpuint(l->gates_missing, ==, 0);
    g_assert_cmpfloat(l->cover_wall, >=, wish->cover_wall - 1e-6);
    g_assert_cmpfloat(l->cover_between, >=, wish->cover_between - 1e-6);
    g_assert_cmpfloat(l->cover_sprue, >=, wish->cover_runner - 1e-6);
    g_assert_cmpfloat(l->cover_runner, >=, wish->cover_runner - 1e-6);
}

static void
test_nothing_locked(void)
{
    for (int i = 0; i < 4; i++) {
        MouldWish wish = wish_of(0.3117, i % 2 ? 0.2311 : 0.2417);
        wish.riser_diameter = i / 2 * 0.0253;
        wish.riser_height = i / 2 * 0.0371;
        wish.neck = i / 2 * 0.0113;
        wish.cover_runner = i == 0 ? 0.02 : 0.0131 + 0.0047 * i;
        g_autoptr(MouldFixed) fixed = fixed_of(&wish);
        MouldWay way;
        MouldPlace place;
        g_assert_true(mould_place_search(&wish, &way, &place));
        MouldRestTask task = {.fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1};
        g_autoptr(MouldRest) rest = mould_rest_place(&task, NULL);
        g_assert_nonnull(rest);
        g_assert_cmpuint(rest->spots->len, >=, way.rows * way.columns);
        check_sand(fixed, rest);
    }
}

static void
test_round_locked(void)
{
    MouldWish wish = wish_of(0.3517, 0.2911);
    g_autoptr(MouldFixed) fixed = fixed_of(&wish);
    MouldRestTask task = {.fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1};
    g_autoptr(MouldRest) all = mould_rest_place(&task, NULL);
    g_assert_nonnull(all);
    // One of them moved a little along the runner and locked, then two.
    PlacementSpot locked[2];
    locked[0] = g_array_index(all->spots, PlacementSpot, 1);
    locked[1] = g_array_index(all->spots, PlacementSpot, all->spots->len - 1);
    for (guint n = 1; n <= 2; n++) {
        double *along = all->axis ? &locked[n - 1].y : &locked[n - 1].x;
        *along += 0.0031;
        locked[n - 1].locked = TRUE;
        task.locked = locked;
        task.n_locked = n;
        g_autoptr(MouldRest) rest = mould_rest_place(&task, NULL);
        g_assert_nonnull(rest);
        g_assert_cmpuint(rest->spots->len, >=, all->spots->len - n);
        g_assert_cmpmem(rest->spots->data, n * sizeof *locked, locked, n * sizeof *locked);
        check_sand(fixed, rest);
        // The same again, whatever the number of threads.
        g_autoptr(MouldRest) again = mould_rest_place(&task, NULL);
        g_assert_cmpmem(rest->spots->data, rest->spots->len * sizeof(PlacementSpot),
                        again->spots->data, again->spots->len * sizeof(PlacementSpot));
    }
    // Where the locked ones stand as in the best, nothing is lost.
    locked[0] = g_array_index(all->spots, PlacementSpot, 1);
    task.n_locked = 1;
    g_autoptr(MouldRest) same = mould_rest_place(&task, NULL);
    g_assert_cmpuint(same->spots->len, >=, all->spots->len);
    check_sand(fixed, same);
}

static void
test_asked_for(void)
{
    MouldWish wish = wish_of(0.3517, 0.2911);
    g_autoptr(MouldFixed) fixed = fixed_of(&wish);
    MouldRestTask task = {.fixed = fixed, .most = 4, .sprue_x = NAN, .sprue_y = -0.0117, .axis = 0};
    g_autoptr(MouldRest) few = mould_rest_place(&task, NULL);
    g_assert_cmpuint(few->spots->len, ==, 4);
    g_assert_cmpint(few->axis, ==, 0);
    check_close(few->sprue_y, -0.0117, 1e-12, "the sprue stays on its line");
    check_sand(fixed, few);
    // A round flask.
    wish = wish_of(0.3317, 0.3317);
    wish.round = TRUE;
    g_autoptr(MouldFixed) round = fixed_of(&wish);
    task = (MouldRestTask){.fixed = round, .sprue_x = NAN, .sprue_y = NAN, .axis = -1};
    g_autoptr(MouldRest) rest = mould_rest_place(&task, NULL);
    MouldWay way;
    MouldPlace place;
    g_assert_true(mould_place_search(&wish, &way, &place));
    g_assert_cmpuint(rest->spots->len, >=, way.rows * way.columns);
    check_sand(round, rest);
    // No room for any more, or at all.
    PlacementSpot middle = {0, 0.01, 0, TRUE};
    wish = wish_of(0.12, 0.1);
    g_autoptr(MouldFixed) small = fixed_of(&wish);
    task = (MouldRestTask){small, &middle, 1, 0, NAN, NAN, -1};
    g_assert_null(mould_rest_place(&task, NULL));
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    task.fixed = fixed;
    g_assert_null(mould_rest_place(&task, progress));
}

// A riser with its place at the casting turns with it: sand is kept from it too, and all gates go
// into risers.
static void
test_own_riser(void)
{
    const double r = 0.0253 / 2, gap = 0.0057;
    MouldWish wish = wish_of(0.4117, 0.3311);
    double x = wish.box_x / 2, y = wish.box_y / 2;
    const SolidPoint p[4] = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
    g_autoptr(SolidOutline) box = outline_of(p, 4);
    MouldBeside b;
    g_assert_true(mould_beside_find(box, box, (SolidPoint){0.011, -0.002}, r, gap, &b));
    wish.own = (MouldOwnRiser){2 * r, 0.0371, b.at.x, b.at.y, 0, TRUE, b.joint.x, b.joint.y};
    wish.neck = 2 * gap;
    g_autoptr(MouldFixed) fixed = fixed_of(&wish);
    MouldRestTask task = {.fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1};
    g_autoptr(MouldRest) rest = mould_rest_place(&task, NULL);
    g_assert_nonnull(rest);
    check_sand(fixed, rest);
    g_autoptr(MouldLayout) l = lay_out(fixed, rest);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        const MouldChannel *g = &l->gates[i];
        check_close(hypot(g->x2 - c->riser_x, g->y2 - c->riser_y), r, 1e-9, "ends at its rim");
    }
    // No further from the runner than the sand asks for.
    g_assert_cmpfloat(l->cover_runner, <=, wish.cover_between + 1e-3);
    // By hand: between the walls' sand there are 361.7 mm, into which boxes of 51.7 mm with 20 mm
    // between go five times; the riser stands beside the long side and takes none of it. Across,
    // two rows of half a runner, sand, riser, gap and box are less than the 281.1 mm there are.
    guint columns = (guint)floor((0.4117 - 0.05 + 0.02) / (wish.box_x + 0.02));
    g_assert_cmpuint(rest->spots->len, >=, 2 * columns);
}

// Brackets 98.9 by 60.3 mm with a riser of 44.5 mm in the gate: in rows alike there are four, but
// three on end at one side and two as drawn at the other take 3 x 60.3 + 2 x 20 of 250 mm, and
// 98.9 + 60.3 + 2 x (57.5 + 20) + the runner of 350 mm. A well would be too wide for that between
// all of them, not between two.
static void
test_mixed_rows(void)
{
    MouldWish wish = wish_of(0.4, 0.3);
    wish.box_x = 0.0989;
    wish.box_y = 0.0603;
    wish.cavity_volume = 1.3e-4;
    wish.cavity_mass = 0.335;
    wish.wall_time = 11.3;
    wish.riser_diameter = wish.riser_height = 0.0445;
    wish.neck = 0.026;
    g_autoptr(MouldFixed) fixed = fixed_of(&wish);
    MouldWay way;
    MouldPlace place;
    g_assert_true(mould_place_search(&fixed->wish, &way, &place));
    g_assert_cmpint(way.rows * way.columns, ==, 4);
    MouldRestTask task = {.fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1};
    g_autoptr(MouldRest) rest = mould_rest_place(&task, NULL);
    g_assert_cmpuint(rest->spots->len, ==, 5);
    g_assert_cmpfloat(rest->kept.sprue, >, rest->kept.runner);
    check_sand(fixed, rest);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/rest/nothing-locked", test_nothing_locked);
    g_test_add_func("/mould/rest/locked", test_round_locked);
    g_test_add_func("/mould/rest/asked-for", test_asked_for);
    g_test_add_func("/mould/rest/own-riser", test_own_riser);
    g_test_add_func("/mould/rest/mixed-rows", test_mixed_rows);
    return g_test_run();
}
