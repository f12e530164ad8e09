// SPDX-License-Identifier: GPL-3.0-or-later
// Plain sessions, one kind of mould and one furnace: some worked by hand, and many random shops
// given to a checker that knows only the rules of the floor, not how the schedule is made.
#include "check.h"
#include "rules.h"
#include "session/session.h"

#define MIN60(minutes) ((minutes)*60.0)
#define BY_HAND "worked by hand"

static const SessionShop plain_shop = {
    .hours = MIN60(480),
    .set_up = MIN60(20),
    .closing = MIN60(30),
    .warm_up = MIN60(95),
    .charge = MIN60(5),
    .heat = MIN60(42),
    .ram = MIN60(30),
    .skim = MIN60(4),
    .pour = MIN60(1),
    .cool = MIN60(50),
    .shake_out = MIN60(10),
    .people = 1,
    .boxes = 4,
    .flasks_per_load = 2,
};

static const SessionTask *
get_task(const SessionPlan *session, guint index)
{
    return &g_array_index(session->tasks, SessionTask, index);
}

// Start and end of the task of a kind that belongs to a flask; each flask has one at most.
static const SessionTask *
find_task(const SessionPlan *session, TaskKind kind, int flask)
{
    const SessionTask *found = NULL;
    for (guint i = 0; i < session->tasks->len; i++) {
        const SessionTask *task = get_task(session, i);
        if (task->kind == kind && task->flask == flask) {
            g_assert_null(found);
            found = task;
        }
    }
    return found;
}

static void
check_session(const SessionShop *shop, const SessionPlan *session)
{
    SessionFloor floor = session_shop_floor(shop);
    rules_check(&floor, session);
}

// One load of two: set up 0-20, warm 20-115, flasks rammed 20-50 and 50-80, charge 115-120, melt
// 120-162, skim and pour to 167 and 168, the first flask cool at 217, shaken out 217-227, the
// second 227-237, closed at 267.
static void
test_by_hand(void)
{
    g_autoptr(SessionPlan) session = session_plan_of(&plain_shop, 2, TRUE, NULL, NULL);
    check_session(&plain_shop, session);
    check_close(find_task(session, TASK_SHUT, 1)->end, MIN60(80), 1e-12, BY_HAND);
    check_close(find_task(session, TASK_POUR, 0)->end, MIN60(167), 1e-12, BY_HAND);
    check_close(find_task(session, TASK_POUR, 1)->end, MIN60(168), 1e-12, BY_HAND);
    check_close(find_task(session, TASK_SHAKE_OUT, 1)->end, MIN60(237), 1e-12, BY_HAND);
    check_close(session->length, MIN60(267), 1e-12, BY_HAND);
    check_close(session->person_time, MIN60(20 + 60 + 5 + 6 + 20 + 30), 1e-12, BY_HAND);
    g_assert_true(session->within);
    g_assert_cmpint(session->left_to_cool, ==, 0);
    g_assert_cmpstr(get_task(session, 0)->label, ==, "Set up");
    g_assert_cmpstr(find_task(session, TASK_SHAKE_OUT, 1)->label, ==, "Shake out mould 2");
}

// With 209 minutes there is time to close after the pour but not to wait for the flasks.
static void
test_overnight(void)
{
    SessionShop shop = plain_shop;
    shop.hours = MIN60(209);
    g_autoptr(SessionPlan) session = session_plan_of(&shop, 2, FALSE, NULL, NULL);
    check_session(&shop, session);
    g_assert_true(session->within);
    g_assert_cmpint(session->left_to_cool, ==, 2);
    check_close(session->length, MIN60(198), 1e-12, BY_HAND);
}

// What a caster works out on paper. A crucible of the one-kilogram class filled three quarters
// gives 0.75 kg, two flasks of 0.31 kg. Warm-up: three holds of 45 minutes with 5 minutes of
// climbing before each, 150. From pour to pour 5 charge + 29 melt + 4 skim + 2 pour = 40 minutes.
// Set up 0-20, warm 20-170, charged 170-175, molten 204, the first pour begins at 208 and the load
// is out at 210; then 250, 290, 330, and closing takes 330-360: four loads, eight flasks, with
// three cavities each 24 castings.
static void
test_caster(void)
{
    double fills = floor(0.75 / 0.31);
    SessionShop shop = {.hours = MIN60(360),
                        .set_up = MIN60(20),
                        .closing = MIN60(30),
                        .warm_up = MIN60(3 * (5 + 45)),
                        .charge = MIN60(5),
                        .heat = MIN60(29),
                        .ram = MIN60(24),
                        .skim = MIN60(4),
                        .pour = MIN60(1),
                        .cool = MIN60(50),
                        .shake_out = MIN60(10),
                        .people = 1,
                        .boxes = 8,
                        .flasks_per_load = (int)fills};
    int flasks = 0;
    g_assert_cmpint(shop.flasks_per_load, ==, 2);
    g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
    g_assert_cmpint(flasks, ==, 8);
    g_assert_cmpint(session_plan_bound(&shop), ==, 8);
    g_autoptr(SessionPlan) session = session_plan_of(&shop, flasks, TRUE, NULL, NULL);
    check_session(&shop, session);
    g_assert_cmpint(session->loads, ==, 4);
    check_close(find_task(session, TASK_POUR, 0)->start, MIN60(208), 1e-12, BY_HAND);
    for (int load = 0; load < 4; load++)
        check_close(find_task(session, TASK_POUR, 2 * load + 1)->end, MIN60(210 + 40 * load), 1e-12,
                    BY_HAND);
    check_close(session->length, MIN60(360), 1e-12, BY_HAND);
    // A quarter of an hour less: the last load, one flask, is out 5 + 14.5 + 4 + 1 after 290.
    shop.hours = MIN60(345);
    g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
    g_assert_cmpint(flasks, ==, 7);
}

static void
test_too_short(void)
{
    // One flask needs 20 + 95 + 5 + 21 + 4 + 1 + 30 = 176 minutes.
    SessionShop shop = plain_shop;
    int flasks = -1;
    shop.hours = MIN60(175.9);
    g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
    g_assert_cmpint(flasks, ==, 0);
    g_autoptr(SessionPlan) session = session_plan_of(&shop, 1, FALSE, NULL, NULL);
    g_assert_false(session->within);
    check_close(session->length, MIN60(176), 1e-12, BY_HAND);
    shop.hours = MIN60(176);
    g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
    g_assert_cmpint(flasks, ==, 1);
}

static SessionShop
make_random_shop(GRand *rand)
{
    SessionShop shop = {
        .hours = g_rand_double_range(rand, 3.1, 13.7) * 3600,
        .set_up = g_rand_double_range(rand, 0, 40) * 60,
        .closing = g_rand_double_range(rand, 0, 45) * 60,
        .warm_up = g_rand_double_range(rand, 10, 200) * 60,
        .charge = g_rand_double_range(rand, 1, 12) * 60,
        .heat = g_rand_double_range(rand, 5, 90) * 60,
        .ram = g_rand_double_range(rand, 4, 50) * 60,
        .skim = g_rand_double_range(rand, 0, 8) * 60,
        .pour = g_rand_double_range(rand, 0.2, 4) * 60,
        .cool = g_rand_double_range(rand, 5, 150) * 60,
        .shake_out = g_rand_double_range(rand, 2, 20) * 60,
        .people = g_rand_int_range(rand, 1, 4),
        .boxes = g_rand_int_range(rand, 1, 9),
        .flasks_per_load = g_rand_int_range(rand, 1, 7),
    };
    return shop;
}

static void
test_random_shops(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(38711);
    for (int i = 0; i < 250; i++) {
        SessionShop shop = make_random_shop(rand);
        int flasks = -1;
        g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
        g_assert_cmpint(flasks, <=, session_plan_bound(&shop));
        if (flasks > 0) {
            g_autoptr(SessionPlan) session = session_plan_of(&shop, flasks, FALSE, NULL, NULL);
            g_assert_true(session->within);
            g_assert_cmpfloat(session->length, <=, shop.hours);
            g_assert_cmpint(session->flasks, ==, flasks);
            g_assert_true(flasks == 1 || session->longest_held <= SESSION_MOST_HELD);
            check_session(&shop, session);
        }
    }
}

// The search finds what trying every number finds.
static void
test_search(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(90127);
    int short_by = 0;
    for (int i = 0; i < 60; i++) {
        SessionShop shop = make_random_shop(rand);
        int flasks = -1, best = 0;
        g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
        for (int n = 1; n <= session_plan_bound(&shop); n++) {
            g_autoptr(SessionPlan) session = session_plan_of(&shop, n, FALSE, NULL, NULL);
            if (session->within)
                best = n;
        }
        short_by += best - flasks;
    }
    g_assert_cmpint(short_by, ==, 0);
}

static void
test_same_again(void)
{
    g_autoptr(SessionPlan) a = session_plan_of(&plain_shop, 7, TRUE, NULL, NULL);
    g_autoptr(SessionPlan) b = session_plan_of(&plain_shop, 7, TRUE, NULL, NULL);
    g_assert_cmpint(a->tasks->len, ==, b->tasks->len);
    for (guint i = 0; i < a->tasks->len; i++) {
        g_assert_cmpfloat(get_task(a, i)->start, ==, get_task(b, i)->start);
        g_assert_cmpfloat(get_task(a, i)->end, ==, get_task(b, i)->end);
        g_assert_cmpstr(get_task(a, i)->label, ==, get_task(b, i)->label);
    }
}

// The largest shop the fields allow ends, and keeps the rules.
static void
test_largest(void)
{
    SessionShop shop = {.hours = 172800,
                        .charge = 10,
                        .heat = 60,
                        .ram = 30,
                        .pour = 5,
                        .cool = 1800,
                        .shake_out = 10,
                        .people = 8,
                        .boxes = 200,
                        .flasks_per_load = 150};
    int flasks = 0;
    g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
    g_assert_cmpint(flasks, ==, SESSION_MOST_FLASKS);
    g_autoptr(SessionPlan) session = session_plan_of(&shop, flasks, FALSE, NULL, NULL);
    check_session(&shop, session);
}

static void
test_refused(void)
{
    SessionShop shop = plain_shop;
    g_assert_true(session_shop_is_usable(&shop));
    shop.cool = NAN;
    g_assert_false(session_shop_is_usable(&shop));
    shop = plain_shop;
    shop.ram = -1;
    g_assert_false(session_shop_is_usable(&shop));
    shop = plain_shop;
    shop.boxes = 0;
    g_assert_false(session_shop_is_usable(&shop));
    SessionFloor floor = session_shop_floor(&plain_shop);
    SessionLoad load = {.count = {3}}; // more than a load
    SessionWay way = session_way(0);
    g_assert_null(session_lay(&floor, &load, 1, &way, NULL, FALSE));
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    int flasks = -7;
    g_assert_false(session_plan_most(&plain_shop, &flasks, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    g_clear_error(&error);
    g_assert_null(session_plan_of(&plain_shop, 3, FALSE, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    g_assert_cmpint(flasks, ==, -7);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/schedule/by-hand", test_by_hand);
    g_test_add_func("/session/schedule/overnight", test_overnight);
    g_test_add_func("/session/schedule/caster", test_caster);
    g_test_add_func("/session/schedule/too-short", test_too_short);
    g_test_add_func("/session/schedule/random", test_random_shops);
    g_test_add_func("/session/schedule/search", test_search);
    g_test_add_func("/session/schedule/same-again", test_same_again);
    g_test_add_func("/session/schedule/largest", test_largest);
    g_test_add_func("/session/schedule/refused", test_refused);
    return g_test_run();
}
