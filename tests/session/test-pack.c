// SPDX-License-Identifier: GPL-3.0-or-later
// Packing moulds into loads against all ways to do it, and what is refused of a floor.
#include "session/pack.h"

#include "check.h"
#include "session/mip.h"

#define MANY 9

// Fewest loads for a moulds of one kind and b of another, in one crucible.
static int
count_fewest(double x, double y, double holds, int a, int b)
{
    int fewest[MANY][MANY];
    for (int i = 0; i <= a; i++) {
        for (int j = 0; j <= b; j++) {
            fewest[i][j] = i + j == 0 ? 0 : 1000;
            for (int p = 0; p <= i; p++)
                for (int q = 0; q <= j; q++)
                    if (p + q > 0 && p * x + q * y <= holds * (1 + 1e-9))
                        fewest[i][j] = MIN(fewest[i][j], fewest[i - p][j - q] + 1);
        }
    }
    return fewest[a][b];
}

static SessionFloor
make_floor(double x, double y, double holds)
{
    SessionFloor floor;
    session_floor_init(&floor);
    floor.hours = 36000;
    floor.charge = 311;
    floor.skim = 97;
    floor.n_furnaces = floor.n_metals = floor.n_boxes = 1;
    floor.n_kinds = 2;
    floor.furnaces[0] = (SessionFurnace){.warm_up = 3700, .holds = {holds}, .melt = {613}};
    floor.boxes[0] = 50;
    for (int k = 0; k < 2; k++)
        floor.kinds[k] = (SessionMould){.job = k,
                                        .kg = k == 0 ? x : y,
                                        .pour = 61,
                                        .cool = 1800,
                                        .shake_out = 300,
                                        .worth = 1,
                                        .wanted = 10,
                                        .ram = {100, 200, 50, 30}};
    return floor;
}

static void
check_packing(const SessionFloor *floor, const int *counts, const SessionPacking *packing)
{
    int packed[SESSION_MOST_KINDS] = {0};
    g_assert_nonnull(packing);
    for (guint i = 0; i < packing->loads->len; i++) {
        const SessionLoad *load = &g_array_index(packing->loads, SessionLoad, i);
        g_assert_true(session_load_is_possible(floor, load));
        for (int k = 0; k < floor->n_kinds; k++) {
            packed[k] += load->count[k];
            if (load->count[k] > 0)
                g_assert_cmpint(floor->kinds[k].metal, ==, load->metal);
        }
    }
    for (int k = 0; k < floor->n_kinds; k++)
        g_assert_cmpint(packed[k], ==, counts[k]);
    g_assert_cmpfloat(packing->bound, <=, packing->time * (1 + 1e-9) + 1e-6);
}

static void
test_fewest(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(239);
    for (int i = 0; i < 200; i++) {
        double x = g_rand_double_range(rand, 0.21, 1.1), y = g_rand_double_range(rand, 0.17, 1.3);
        SessionFloor floor = make_floor(x, y, g_rand_double_range(rand, 1.31, 3.9));
        int counts[SESSION_MOST_KINDS] = {g_rand_int_range(rand, 1, MANY),
                                          g_rand_int_range(rand, 1, MANY)};
        g_autoptr(SessionPacking) packing = session_pack(&floor, counts, 100, NULL, NULL);
        check_packing(&floor, counts, packing);
        g_assert_cmpint(packing->how, ==, SESSION_PACK_PATTERNS);
        int fewest = count_fewest(x, y, floor.furnaces[0].holds[0], counts[0], counts[1]);
        g_assert_cmpuint(packing->loads->len, ==, (guint)fewest);
        double metal = counts[0] * x + counts[1] * y;
        check_close(packing->time,
                    fewest * (311 + 97.0) + metal * 613 + (counts[0] + counts[1]) * 61, 1e-6,
                    "charge, skim, melt and pour");
    }
}

// Two furnaces that are not alike share the work so that neither waits long for the other.
static void
test_two_furnaces(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(8861);
    for (int i = 0; i < 60; i++) {
        SessionFloor floor = make_floor(0.61, 0.43, 2.17);
        floor.n_furnaces = 2;
        floor.furnaces[1] = (SessionFurnace){.warm_up = 2100,
                                             .holds = {g_rand_double_range(rand, 0.7, 4)},
                                             .melt = {g_rand_double_range(rand, 300, 900)}};
        int counts[SESSION_MOST_KINDS] = {g_rand_int_range(rand, 1, 20),
                                          g_rand_int_range(rand, 1, 20)};
        g_autoptr(SessionPacking) both = session_pack(&floor, counts, 100, NULL, NULL);
        check_packing(&floor, counts, both);
        floor.n_furnaces = 1;
        g_autoptr(SessionPacking) one = session_pack(&floor, counts, 100, NULL, NULL);
        g_assert_cmpfloat(both->time, <=, one->time + 1e-6);
    }
}

// So many kinds that patterns cannot be listed: first fit answers, says so and gives a bound.
static void
test_first_fit(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(17);
    SessionFloor floor = make_floor(0.3, 0.4, 9.7);
    floor.n_kinds = SESSION_MOST_KINDS;
    int counts[SESSION_MOST_KINDS];
    double kg = 0;
    for (int k = 0; k < floor.n_kinds; k++) {
        floor.kinds[k] = floor.kinds[0];
        floor.kinds[k].job = k;
        floor.kinds[k].kg = g_rand_double_range(rand, 0.31, 1.73);
        counts[k] = g_rand_int_range(rand, 2, 9);
        kg += counts[k] * floor.kinds[k].kg;
    }
    g_autoptr(SessionPacking) packing = session_pack(&floor, counts, 100, NULL, NULL);
    check_packing(&floor, counts, packing);
    g_assert_cmpint(packing->how, ==, SESSION_PACK_FIRST_FIT);
    g_assert_cmpuint(packing->loads->len, >=, (guint)ceil(kg / 9.7));
    g_assert_cmpuint(packing->loads->len, <=, (guint)ceil(kg / 9.7 * 1.7) + 1);
}

static gpointer
solve_cb(gpointer data)
{
    SessionFloor floor = make_floor(0.37, 0.83, 2.9);
    int counts[SESSION_MOST_KINDS] = {8, 7};
    guint loads = 0;
    for (int i = 0; i < 50; i++) {
        g_autoptr(SessionPacking) packing = session_pack(&floor, counts, 100, NULL, NULL);
        loads += packing->loads->len;
    }
    return GUINT_TO_POINTER(loads);
}

static void
test_threads(void)
{
    GThread *threads[4];
    gpointer alone = solve_cb(NULL);
    for (int i = 0; i < 4; i++)
        threads[i] = g_thread_new("pack", solve_cb, NULL);
    for (int i = 0; i < 4; i++)
        g_assert_true(g_thread_join(threads[i]) == alone);
}

// max 5x + 4y: 6x + 4y <= 24, x + 2y <= 6, whole: 20 at (4, 0); relaxed 21 at (3, 1.5). A textbook
// programme, worked by hand.
static void
test_programme(void)
{
    g_autoptr(SessionMip) mip = session_mip_new(TRUE);
    int x = session_mip_column(mip, 0, INFINITY, 5, TRUE);
    int y = session_mip_column(mip, 0, INFINITY, 4, TRUE);
    int a = session_mip_row(mip, -INFINITY, 24), b = session_mip_row(mip, -INFINITY, 6);
    session_mip_set(mip, a, x, 6);
    session_mip_set(mip, a, y, 4);
    session_mip_set(mip, b, x, 1);
    session_mip_set(mip, b, y, 2);
    g_assert_cmpint(session_mip_solve(mip, NULL), ==, SESSION_MIP_BEST);
    check_close(session_mip_objective(mip), 20, 1e-9, "worked by hand");
    check_close(session_mip_bound(mip), 20, 1e-9, "worked by hand");
    g_autoptr(SessionMip) none = session_mip_new(FALSE);
    int z = session_mip_column(none, 0, 1, 1, TRUE);
    session_mip_set(none, session_mip_row(none, 2, INFINITY), z, 1);
    g_assert_cmpint(session_mip_solve(none, NULL), ==, SESSION_MIP_NONE);
}

static void
check_bad(const SessionFloor *floor, const char *words)
{
    g_autoptr(GError) error = NULL;
    g_assert_false(session_floor_check(floor, &error));
    check_error(error, BASE_ERROR_VALUE, words);
}

static void
test_bad_floors(void)
{
    SessionFloor good = make_floor(0.61, 0.43, 2.17), floor = good;
    g_autoptr(GError) error = NULL;
    g_assert_true(session_floor_check(&good, &error));
    floor.hours = -3;
    check_bad(&floor, "hours");
    floor = good;
    floor.closing = 36000;
    check_bad(&floor, "leave nothing");
    floor = good;
    floor.skim = NAN;
    check_bad(&floor, "skimming");
    floor = good;
    floor.people = 0;
    check_bad(&floor, "nobody");
    floor = good;
    floor.benches = 0;
    check_bad(&floor, "bench");
    floor = good;
    floor.places = 0;
    check_bad(&floor, "cool");
    floor = good;
    floor.n_furnaces = 0;
    check_bad(&floor, "furnace");
    floor = good;
    floor.boxes[0] = 0;
    check_bad(&floor, "no flask of its kind is free");
    floor = good;
    floor.furnaces[0].holds[0] = 0;
    floor.metals[0] = "silicon bronze";
    check_bad(&floor, "silicon bronze may go into none of the crucibles");
    floor = good;
    floor.furnaces[0].holds[0] = 0.6;
    floor.kinds[0].name = "Bracket";
    check_bad(&floor, "Bracket: one mould takes 0.61 kg");
    check_bad(&floor, "a crucible that gives that much, or fewer cavities");
    floor = good;
    floor.kinds[1].sand = 41;
    floor.sand_ready = 40;
    check_bad(&floor, "41 kg of sand");
    floor = good;
    floor.kinds[1].ram[2] = -1;
    check_bad(&floor, "negative");
    floor = good;
    floor.light_from = floor.light_to = 3600;
    check_bad(&floor, "daylight");
    floor = good;
    floor.n_kinds = 0;
    check_bad(&floor, "nothing to mould");
    int counts[SESSION_MOST_KINDS] = {1, 1};
    floor = good;
    floor.furnaces[0].holds[0] = 0.2;
    g_assert_null(session_pack(&floor, counts, 5, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "fits no load");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/pack/fewest", test_fewest);
    g_test_add_func("/session/pack/two-furnaces", test_two_furnaces);
    g_test_add_func("/session/pack/first-fit", test_first_fit);
    g_test_add_func("/session/pack/threads", test_threads);
    g_test_add_func("/session/pack/programme", test_programme);
    g_test_add_func("/session/pack/bad-floors", test_bad_floors);
    return g_test_run();
}
