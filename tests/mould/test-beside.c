// SPDX-License-Identifier: GPL-3.0-or-later
// A riser beside the casting: which side, how far, hot or cold, by rows and by hand.
#include <math.h>

#include "check.h"
#include "mould/alternate.h"
#include "mould/beside.h"
#include "mould/build.h"
#include "mould/fixed.h"
#include "solid/outline.h"
#include "wish.h"

#define R 0.0117
#define GAP 0.0063

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

static MouldBeside
find(const SolidOutline *o, double x, double y)
{
    MouldBeside b = {0};
    g_assert_true(mould_beside_find(o, o, (SolidPoint){x, y}, R, GAP, &b));
    g_assert_cmpfloat(b.radius, ==, R);
    check_close(hypot(b.at.x - b.joint.x, b.at.y - b.joint.y), R + GAP, 1e-12, "the neck's length");
    return b;
}

static void
test_side(void)
{
    g_autoptr(SolidOutline) box = rectangle(0.0817, 0.0413);
    MouldBeside b = find(box, 0.0311, 0.0021);
    check_close(b.at.x, 0.0817 / 2 + R + GAP, 1e-12, "square off the nearest side");
    check_close(b.at.y, 0.0021, 1e-12, "opposite the hot spot");
    check_close(b.joint.x, 0.0817 / 2, 1e-12, "on the side");
    // In the middle both long sides are as near: the one at the runner.
    b = find(box, 0, 0);
    check_close(b.at.y, -0.0413 / 2 - R - GAP, 1e-12, "at -y");
    check_close(b.at.x, 0, 1e-12, "in the middle");
    // By hand beyond a corner: round it, straight towards the place.
    b = find(box, 0.0817 / 2 + 0.03, 0.0413 / 2 + 0.03);
    check_close(b.at.x - 0.0817 / 2, (R + GAP) / sqrt(2), 1e-9, "45 degrees");
    check_close(b.joint.x, 0.0817 / 2, 1e-12, "the corner");
}

// Into a notch narrower than itself a riser does not go.
static void
test_notch(void)
{
    const SolidPoint u[8] = {{-0.06, -0.04}, {-0.01, -0.04}, {-0.01, 0.01}, {0.01, 0.01},
                             {0.01, -0.04},  {0.06, -0.04},  {0.06, 0.04},  {-0.06, 0.04}};
    g_autoptr(SolidOutline) o = outline_of(u, 8);
    MouldBeside b = find(o, 0, 0.02);
    check_close(b.at.y, 0.04 + R + GAP, 1e-9, "behind the notch");
    // A wide one takes it.
    SolidPoint wide[8];
    for (int i = 0; i < 8; i++)
        wide[i] = (SolidPoint){fabs(u[i].x) < 0.02 ? 2.5 * u[i].x : u[i].x, u[i].y};
    g_autoptr(SolidOutline) w = outline_of(wide, 8);
    b = find(w, 0, 0.012);
    check_close(b.at.y, 0.01 - R - GAP, 1e-9, "in the notch");
    MouldBeside none = {.radius = -1};
    g_assert_false(mould_beside_find(o, o, (SolidPoint){NAN, 0}, R, GAP, &none));
    g_assert_false(mould_beside_find(o, o, (SolidPoint){0, 0}, 0, GAP, &none));
    g_assert_cmpfloat(none.radius, ==, -1);
}

static void
test_hot(void)
{
    g_autoptr(SolidOutline) box = rectangle(0.0817, 0.0413);
    MouldBeside b = find(box, 0.0311, 0.0021);
    const double turns[4] = {-G_PI / 2, 0, G_PI / 2, G_PI};
    for (int i = 0; i < 4; i++) {
        MouldStance s = mould_stance_reach(box, box, turns[i], &b);
        // Turned by a quarter to the right its +x side faces the runner, by one to the left the
        // casting lies between. At an end of the row the runner's gate passes by the casting.
        g_assert_cmpint(s.hot, ==, i != 2);
        double u = i % 2 ? 0.0817 : 0.0413, v = i % 2 ? 0.0413 : 0.0817, out = 2 * R + GAP;
        check_close(s.left + s.right, u + (i % 2 ? out : 0), 1e-9, "with the riser");
        check_close(s.front + s.back, v + (i % 2 ? 0 : out), 1e-9, "with the riser");
        check_close(s.attach_u, s.hot ? s.riser_u : 0, 1e-9, "where the gate goes");
        check_close(s.attach_v, s.hot ? s.riser_v - R : -0.0817 / 2, 1e-9, "where the gate ends");
    }
    // A cold riser's gate passes it by.
    const SolidPoint hook[6] = {{-0.05, 0},   {0.05, 0},    {0.05, 0.03},
                                {0.01, 0.03}, {0.01, 0.01}, {-0.05, 0.01}};
    g_autoptr(SolidOutline) o = outline_of(hook, 6);
    MouldBeside behind = {{-0.01, 0.01 + R + GAP}, {-0.01, 0.01}, R};
    MouldStance s = mould_stance_reach(o, o, 0, &behind);
    g_assert_false(s.hot);
    check_close(s.attach_v, 0, 1e-12, "from the front");
}

static void
set_wish(MouldWish *wish, const SolidOutline *box, double x, double y, int n)
{
    *wish = wish_of(0.4, 0.3);
    MouldBeside b = find(box, x, y);
    wish->own = (MouldOwnRiser){2 * R, 0.031, b.at.x, b.at.y, 0, TRUE, b.joint.x, b.joint.y};
    wish->neck = 2 * GAP;
    wish->n_stances = n;
    MouldRow row = {0, GAP, wish->cover_between, &b};
    gboolean hot = FALSE;
    for (int i = 0; i < n; i++) {
        wish->stances[i] = mould_stance(box, box, i * G_PI / 2, &row);
        wish->attach_u[i] = wish->stances[i].attach_u;
        wish->attach_v[i] = wish->stances[i].attach_v;
        wish->joint_above[i] = wish->above;
        wish->joint_below[i] = wish->below;
        hot |= wish->stances[i].hot;
    }
    for (int i = 0; i < n; i++)
        wish->stances[i].barred = hot && !wish->stances[i].hot;
}

// Each riser is where its casting has it, the gate ends at its rim or at the casting.
static void
check_layout(const MouldLayout *l, const MouldWish *wish, guint cold)
{
    g_assert_cmpuint(mould_layout_cold(l), ==, cold);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        double dx = c->riser_x - c->x, dy = c->riser_y - c->y;
        check_close(cos(c->turn) * dx + sin(c->turn) * dy, wish->own.x, 1e-9, "turned with it");
        check_close(cos(c->turn) * dy - sin(c->turn) * dx, wish->own.y, 1e-9, "turned with it");
        check_close(hypot(c->neck_x - c->riser_x, c->neck_y - c->riser_y), R + GAP, 1e-9, "neck");
    }
    g_assert_false(l->riser.on_top);
    MouldFixed fixed = {.wish = *wish};
    check_close(mould_fixed_volume(l, &fixed), l->metal_volume, 1e-9,
                "all that is drawn is counted");
}

static void
test_rows(void)
{
    g_autoptr(MouldLayout) l = mould_layout_new();
    MouldWish wish = wish_of(0.4, 0.3);
    g_autoptr(SolidOutline) box = rectangle(wish.box_x, wish.box_y);
    set_wish(&wish, box, 0, wish.box_y / 2, MOULD_QUARTERS);
    MouldWay way;
    MouldPlace place;
    g_assert_true(mould_place_search(&wish, &way, &place));
    mould_build(l, &wish, &way, &place);
    g_assert_true(wish.stances[way.quarter].hot);
    check_layout(l, &wish, 0);
    // Not to be turned, it has its riser behind it.
    g_autoptr(MouldLayout) still = mould_layout_new();
    set_wish(&wish, box, 0, wish.box_y / 2, 1);
    g_assert_true(mould_place_search(&wish, &way, &place));
    mould_build(still, &wish, &way, &place);
    check_layout(still, &wish, still->n_cavities);
    g_assert_cmpuint(still->n_cavities, >, 0);
}

static void
test_by_hand(void)
{
    MouldWish wish = wish_of(0.4, 0.3);
    g_autoptr(SolidOutline) box = rectangle(wish.box_x, wish.box_y);
    set_wish(&wish, box, 0, -wish.box_y / 2, MOULD_QUARTERS);
    g_autoptr(MouldFixed) fixed = mould_fixed_new(&wish, box, box);
    g_autoptr(MouldLayout) l = mould_layout_new();
    // One faces the runner, one has its back to it.
    const PlacementSpot spots[2] = {{-0.05, 0.06, 0, FALSE}, {0.05, 0.06, G_PI, FALSE}};
    MouldPour pour;
    mould_fixed_build(l, fixed, spots, 2, NAN, -0.013, 0, &pour);
    check_layout(l, &wish, 1);
    check_close(l->gates[0].y2, l->cavities[0].riser_y - R, 1e-9, "into the riser");
    check_close(l->gates[1].y2, 0.06 - wish.box_y / 2, 1e-9, "into the casting");
    g_assert_cmpuint(l->gates_missing, ==, 0);
    // A riser in the way of another's gate.
    double aside = wish.box_y / 2 + GAP + R;
    for (int i = 0; i < 2; i++) {
        const PlacementSpot behind[2] = {{0, 0.11, 0, FALSE},
                                         {aside + i * 1.1 * R, 0.02, -G_PI / 2, FALSE}};
        g_autoptr(MouldLayout) m = mould_layout_new();
        mould_fixed_build(m, fixed, behind, 2, NAN, -0.07, 0, &pour);
        g_assert_cmpuint(m->gates_missing - m->gates_at_well, ==, 1 - i);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/beside/side", test_side);
    g_test_add_func("/mould/beside/notch", test_notch);
    g_test_add_func("/mould/beside/hot", test_hot);
    g_test_add_func("/mould/beside/rows", test_rows);
    g_test_add_func("/mould/beside/by-hand", test_by_hand);
    return g_test_run();
}
