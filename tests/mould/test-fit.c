// SPDX-License-Identifier: GPL-3.0-or-later
// Stepped runners, and sizes found so that the stepped filling keeps the limits.
#include <math.h>

#include "check.h"
#include "mould/fit.h"
#include "mould/flow.h"
#include "mould/runner.h"
#include "wish.h"

static MouldLayout *
build(const MouldWish *wish, const MouldWay *way, const MouldPlace *place)
{
    MouldLayout *layout = mould_layout_new();
    layout->cope = wish->cope;
    mould_build(layout, wish, way, place);
    return layout;
}

static MouldFilling *
fill(const MouldWish *wish, const MouldWay *way, const MouldPlace *place, const MouldLevel *level)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(MouldLayout) layout = build(wish, way, place);
    MouldFilling *filling = mould_fit_run(layout, level, NULL, NULL, &error);
    g_assert_no_error(error);
    return filling;
}

static MouldLevel *
make_level(const MouldWish *wish)
{
    return mould_level_prism(wish->cavity_volume / (wish->above + wish->below), -wish->below,
                             wish->above);
}

static void
test_pieces(void)
{
    MouldWish wish = wish_of(0.5, 0.24);
    for (int columns = 1; columns <= 6; columns++)
        for (int stepped = 0; stepped < 2; stepped++) {
            MouldWay way = {0, 0, 2, columns};
            wish.stepped = stepped;
            MouldPlace place = mould_place_solve(&wish, &way);
            g_autoptr(MouldLayout) l = build(&wish, &way, &place);
            guint arms = columns > 1 ? 2 : 1;
            g_assert_cmpuint(l->n_runners, ==, stepped ? (guint)columns : arms);
            // One line without gaps: every piece starts at the well or where another ends.
            guint starts = 0;
            for (guint i = 0; i < l->n_runners; i++) {
                const MouldChannel *c = &l->runners[i];
                gboolean joined = i > 0 && c->x1 == l->runners[i - 1].x2;
                starts += !joined;
                g_assert_cmpfloat(c->width, >=, place.pour.runner / 2 * (1 - 1e-12));
                if (joined)
                    g_assert_cmpfloat(c->width, <=, l->runners[i - 1].width * (1 + 1e-12));
                else
                    check_close(fabs(c->x1 - l->sprue_x), l->well_diameter / 2, 1e-9, "the well");
            }
            g_assert_cmpuint(starts, ==, arms);
            double modulus, sum = 0, first = INFINITY;
            for (guint i = 0; i < l->n_gates; i++)
                first = MIN(first, l->gates[i].x1);
            for (guint i = 0; i < l->n_runners; i++)
                sum += l->runners[i].width * l->runners[i].depth *
                       fabs(l->runners[i].x2 - l->runners[i].x1);
            check_close(mould_runner_volume(&wish, &way, &place, first, &modulus), sum, 1e-9,
                        "volume of what is drawn");
            g_assert_cmpfloat(place.pour.channel, <=, modulus * (1 + 1e-12));
        }
}

static void
test_stepped_is_even(void)
{
    MouldWish wish = wish_of(0.5, 0.24);
    MouldWay way = {0, 0, 2, 6};
    g_autoptr(MouldLevel) level = make_level(&wish);
    MouldPlace straight = mould_place_solve(&wish, &way);
    g_autoptr(MouldFilling) uneven = fill(&wish, &way, &straight, level);
    wish.stepped = TRUE;
    MouldPlace stepped = mould_place_solve(&wish, &way);
    g_autoptr(MouldFilling) even = fill(&wish, &way, &stepped, level);
    g_assert_cmpfloat(even->gate_spread, <, uneven->gate_spread / 2);
    g_assert_cmpfloat(stepped.pour.volume, <, straight.pour.volume);
    check_close(even->poured, stepped.pour.volume, 1e-8, "poured is what is drawn");
    check_close(uneven->poured, straight.pour.volume, 1e-8, "poured is what is drawn");
    // Without steps and with an odd number the two arms share unequally; with them by columns.
    MouldWay odd = {0, 0, 2, 3};
    stepped = mould_place_solve(&wish, &odd);
    g_autoptr(MouldLayout) l = build(&wish, &odd, &stepped);
    check_close(l->runners[0].width / l->runners[2].width, 2, 1e-9, "two columns to one");
}

static void
test_fit(void)
{
    // A straight runner that is too narrow for six columns: wider until the gates are even.
    MouldWish wish = wish_of(0.5, 0.24);
    MouldWay way = {0, 0, 2, 6};
    g_autoptr(MouldLevel) level = make_level(&wish);
    MouldPlace place = mould_place_solve(&wish, &way);
    MouldFit fit = {.cavity = level, .spread = 0.5, .wide = TRUE};
    g_autoptr(MouldFilling) before = fill(&wish, &way, &place, level);
    g_assert_cmpfloat(before->gate_spread, >, 0.5);
    MouldPlace wide = place;
    MouldWish wider = wish;
    g_assert_true(mould_fit_sizes(&fit, &wider, &way, &wide));
    g_autoptr(MouldFilling) after = fill(&wider, &way, &wide, level);
    g_assert_cmpfloat(after->gate_spread, <=, 0.5);
    g_assert_cmpfloat(after->gate_velocity, <=, 0.5);
    g_assert_cmpfloat(wider.runner_ratio, >, 4);
    g_assert_cmpfloat(wider.runner_ratio, <=, 16);
    // A person's own runner stays; what would do is a suggestion.
    fit.wide = FALSE;
    wish.runner = 0.008;
    place = mould_place_solve(&wish, &way);
    MouldPlace own = place, better = {0};
    g_assert_false(mould_fit_sizes(&fit, &wish, &way, &own));
    check_close(own.pour.runner, 0.008, 1e-12, "as fixed");
    g_assert_true(mould_fit_suggest(&fit, &wish, &way, &better));
    g_assert_cmpfloat(better.pour.runner, >, 0.008);
    g_assert_true(better.fits);
}

// A casting with next to nothing over the parting is met from the drag, its runner lies in the
// cope: the gates are made smaller until that runs full, as fast as they may.
static void
test_full(void)
{
    MouldWish wish = wish_of(0.5, 0.24);
    wish.above = 0.0009;
    wish.below = 0.0293;
    wish.wall = 0.0113;
    wish.wall_time = 41;
    wish.cavity_volume = 0.0517 * 0.0313 * (wish.above + wish.below);
    wish.cavity_mass = 1.13 * 2391 * wish.cavity_volume;
    wish.stepped = TRUE;
    MouldWay way = {0, 0, 2, 2};
    g_autoptr(MouldLevel) level = make_level(&wish);
    MouldPlace place = mould_place_solve(&wish, &way);
    g_assert_true(place.pour.gates_in_drag);
    MouldFit fit = {.cavity = level, .spread = 0.2};
    MouldPlace as_wished = place, better = {0};
    MouldWish own = wish;
    g_assert_false(mould_fit_sizes(&fit, &own, &way, &as_wished));
    check_close(as_wished.pour.gate_ratio, wish.gate_ratio, 0, "a person's ratio stays");
    g_autoptr(MouldFilling) before = fill(&own, &way, &as_wished, level);
    g_assert_cmpfloat(before->runner_full, <, 0);
    g_assert_true(mould_fit_suggest(&fit, &own, &way, &better));
    fit.narrow = TRUE;
    g_assert_true(mould_fit_sizes(&fit, &wish, &way, &place));
    g_autoptr(MouldFilling) after = fill(&wish, &way, &place, level);
    g_assert_cmpfloat(after->runner_full, >, 0);
    g_assert_cmpfloat(after->gate_velocity, <, 0.5);
    g_assert_cmpfloat(place.pour.gate_area, <, as_wished.pour.gate_area);
    g_assert_cmpfloat(place.pour.gate_ratio, <, own.gate_ratio);
    g_assert_cmpfloat(place.pour.gate_area, >=, place.pour.gate_ratio * place.pour.choke);
}

// A head that cannot be had does not keep speed and unevenness from being cured.
static void
test_no_head(void)
{
    MouldWish wish = wish_of(0.5, 0.26);
    wish.above = 0.0011;
    wish.below = 0.0171;
    wish.cavity_volume = 0.0517 * 0.0313 * (wish.above + wish.below);
    wish.cavity_mass = 1.13 * 2391 * wish.cavity_volume;
    MouldWay way = {0, 0, 2, 4};
    g_autoptr(MouldLevel) level = make_level(&wish);
    MouldPlace place = mould_place_solve(&wish, &way);
    g_assert_true(place.fits);
    g_assert_true(place.pour.gates_in_drag);
    g_autoptr(MouldFilling) before = fill(&wish, &way, &place, level);
    g_assert_cmpfloat(before->gate_spread, >, 0.2);
    MouldFit fit = {.cavity = level, .spread = 0.2, .wide = TRUE}; // a person's gates
    g_assert_false(mould_fit_sizes(&fit, &wish, &way, &place));
    g_autoptr(MouldFilling) after = fill(&wish, &way, &place, level);
    g_assert_cmpfloat(after->runner_full, <, 0);
    g_assert_cmpfloat(after->gate_spread, <=, 0.2);
    g_assert_cmpfloat(after->gate_velocity, <=, 0.5);
}

// In which half gates meet a casting, by what of it there is, and how thick they may be.
static void
test_half(void)
{
    static const struct {
        double above, below;
        gboolean drag;
    } cases[] = {{0.0102, 0, FALSE},      {0.0051, 0.0051, FALSE}, {0.0029, 0.0073, TRUE},
                 {0.0029, 0.0049, FALSE}, {0, 0.0102, TRUE},       {0.0071, 0.0911, FALSE}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        MouldWish wish = wish_of(0.5, 0.24);
        wish.above = cases[i].above;
        wish.below = cases[i].below;
        MouldPour p = mould_pour_sizes(&wish, 3.1e-4, 4, 2, 0.0517);
        g_assert_cmpint(p.gates_in_drag, ==, cases[i].drag);
        double high = cases[i].drag ? wish.below : wish.above;
        g_assert_cmpfloat(p.gate_depth, <=, fmax(high, 0.003) + 1e-12);
        // With a riser at every casting gates meet that, in the cope.
        wish.riser_diameter = wish.riser_height = 0.031;
        g_assert_false(mould_pour_sizes(&wish, 3.1e-4, 4, 2, 0.031).gates_in_drag);
    }
}

static void
test_fixed_sizes(void)
{
    MouldWish wish = wish_of(0.5, 0.24);
    MouldWay way = {0, 0, 2, 2};
    wish.gate_width = 0.0173;
    wish.gate_depth = 0.0031;
    wish.choke = 7.3e-5;
    MouldPlace place = mould_place_solve(&wish, &way);
    check_close(place.pour.choke, 7.3e-5, 1e-12, "as fixed");
    check_close(place.pour.gate_area, 4 * 0.0173 * 0.0031, 1e-12, "as fixed");
    check_close(place.pour.gate_width, 0.0173, 1e-12, "as fixed");
    g_autoptr(MouldLayout) l = build(&wish, &way, &place);
    g_assert_cmpuint(l->gates_at_well + wish_over_well(l), ==, 0);
    // One of the two alone: the area is still found, and the other follows.
    wish.gate_width = 0;
    place = mould_place_solve(&wish, &way);
    check_close(place.pour.gate_depth, 0.0031, 1e-12, "as fixed");
    check_close(place.pour.gate_width * 0.0031 * 4, place.pour.gate_area, 1e-12, "the other");
}

static void
test_no_way_out(void)
{
    // Gates that are too small by a person's wish, with nothing else to change: it says so.
    MouldWish wish = wish_of(0.5, 0.24);
    MouldWay way = {0, 0, 2, 2};
    wish.gate_width = 0.006;
    wish.gate_depth = 0.003;
    wish.choke = 1.3e-4;
    g_autoptr(MouldLevel) level = make_level(&wish);
    MouldPlace place = mould_place_solve(&wish, &way), better = {0};
    MouldFit fit = {.cavity = level, .spread = 0.2, .wide = TRUE};
    g_autoptr(MouldFilling) fast = fill(&wish, &way, &place, level);
    g_assert_cmpfloat(fast->gate_velocity, >, 0.5);
    double share = place.pour.gate_share;
    g_assert_false(mould_fit_sizes(&fit, &wish, &way, &place));
    check_close(place.pour.gate_share, share, 1e-12, "what does not help is not taken");
    g_assert_true(mould_fit_suggest(&fit, &wish, &way, &better));
    g_assert_cmpfloat(better.pour.gate_area, >, 4 * 0.006 * 0.003);
    // Without a limit of speed there is nothing to keep but evenness.
    wish = wish_of(0.5, 0.24);
    wish.velocity_limit = NAN;
    place = mould_place_solve(&wish, &way);
    fit.spread = NAN;
    g_assert_true(mould_fit_sizes(&fit, &wish, &way, &place));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/fit/pieces", test_pieces);
    g_test_add_func("/mould/fit/stepped-is-even", test_stepped_is_even);
    g_test_add_func("/mould/fit/fit", test_fit);
    g_test_add_func("/mould/fit/full", test_full);
    g_test_add_func("/mould/fit/half", test_half);
    g_test_add_func("/mould/fit/no-head", test_no_head);
    g_test_add_func("/mould/fit/fixed-sizes", test_fixed_sizes);
    g_test_add_func("/mould/fit/no-way-out", test_no_way_out);
    return g_test_run();
}
