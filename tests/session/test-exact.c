// SPDX-License-Identifier: GPL-3.0-or-later
// Few moulds in every order of work, against looking at every state the floor can be in.
#include "session/exact.h"

#include "brute.h"
#include "check.h"
#include "rules.h"
#include "session/session.h"

// Molten metal may wait for three of these.
#define UNIT 600.0

static double
draw_time(GRand *rand, int least, int most)
{
    return UNIT * g_rand_int_range(rand, least, most + 1);
}

static SessionFloor
make_tiny(GRand *rand)
{
    SessionFloor floor;
    session_floor_init(&floor);
    floor.hours = 200 * UNIT;
    floor.set_up = draw_time(rand, 0, 2);
    floor.closing = UNIT;
    floor.charge = draw_time(rand, 1, 2);
    floor.skim = draw_time(rand, 0, 1);
    floor.people = g_rand_int_range(rand, 1, 3);
    floor.benches = g_rand_int_range(rand, 1, 3);
    floor.places = g_rand_int_range(rand, 1, 4);
    floor.n_furnaces = g_rand_int_range(rand, 1, 3);
    floor.n_kinds = g_rand_int_range(rand, 1, 3);
    floor.n_metals = g_rand_int_range(rand, 1, floor.n_kinds + 1);
    floor.n_boxes = g_rand_int_range(rand, 1, floor.n_kinds + 1);
    for (int i = 0; i < floor.n_boxes; i++)
        floor.boxes[i] = g_rand_int_range(rand, 1, 3);
    for (int i = 0; i < floor.n_furnaces; i++) {
        floor.furnaces[i].warm_up = draw_time(rand, 0, 6);
        for (int m = 0; m < floor.n_metals; m++) {
            floor.furnaces[i].holds[m] = g_rand_int_range(rand, i == 0 ? 2 : 0, 4);
            floor.furnaces[i].melt[m] = draw_time(rand, 1, 3);
        }
    }
    for (int k = 0; k < floor.n_kinds; k++) {
        floor.kinds[k] = (SessionMould){.job = k,
                                        .metal = k % floor.n_metals,
                                        .box = k % floor.n_boxes,
                                        .kg = g_rand_int_range(rand, 1, 3),
                                        .pour = UNIT,
                                        .cool = draw_time(rand, 1, 4),
                                        .shake_out = draw_time(rand, 1, 2),
                                        .worth = 1.0,
                                        .wanted = 3};
        for (int i = 0; i < 4; i++)
            floor.kinds[k].ram[i] = draw_time(rand, 1, 2);
    }
    return floor;
}

static void
test_against_brute(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(44027);
    int proved = 0, total = 0;
    for (int i = 0; i < 160; i++) {
        SessionFloor floor = make_tiny(rand);
        int counts[SESSION_MOST_KINDS] = {g_rand_int_range(rand, 1, 3),
                                          g_rand_int_range(rand, 0, 2)};
        if (floor.n_kinds == 1)
            counts[1] = 0;
        int least = brute_last_pour(&floor, counts, UNIT, 190);
        g_assert_cmpint(least, >, 0);
        g_autoptr(SessionPlan)
                      plan = session_floor_plan(&floor, counts, SESSION_SOON, FALSE, NULL, NULL);
        SessionExact exact = {0};
        g_assert_true(session_exact(&floor, counts, least * UNIT, &exact, NULL, NULL));
        g_assert_null(exact.session); // nothing is sooner than the soonest
        g_test_message("%d: %d units, found %g, proved %d; %u nodes from there, proved %d", i,
                       least, plan->last_pour / UNIT, plan->proved, exact.nodes, exact.proved);
        total++;
        proved += plan->proved;
        g_assert_nonnull(plan);
        rules_check(&floor, plan);
        g_assert_true(plan->within);
        if (plan->proved)
            check_close(plan->last_pour, least * UNIT, 1e-9, "every state of the floor");
        else
            g_assert_cmpfloat(plan->last_pour, >=, least * UNIT - 1e-6);
    }
    g_test_message("%d of %d proved", proved, total);
    g_assert_cmpint(proved, >=, total * 9 / 10);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/exact/brute", test_against_brute);
    return g_test_run();
}
