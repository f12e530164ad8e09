// SPDX-License-Identifier: GPL-3.0-or-later
// What holds a session back, on shops made so that there can be no doubt, and against planning each
// richer shop apart.
#include "check.h"
#include "session/bottleneck.h"

#define MIN60(minutes) ((minutes)*60.0)

// Plenty of everything; each test takes one thing away.
static const SessionShop rich_shop = {
    .hours = MIN60(500),
    .set_up = MIN60(10),
    .closing = MIN60(20),
    .warm_up = MIN60(60),
    .charge = MIN60(3),
    .heat = MIN60(20),
    .ram = MIN60(12),
    .skim = MIN60(2),
    .pour = MIN60(1),
    .cool = MIN60(40),
    .shake_out = MIN60(5),
    .people = 3,
    .boxes = 14,
    .flasks_per_load = 4,
};

static const char *
find_word(const SessionShop *shop)
{
    int flasks = 0;
    SessionBottleneck found;
    g_assert_true(session_plan_most(shop, &flasks, NULL, NULL));
    g_assert_true(session_bottleneck_find(shop, flasks, &found, NULL, NULL));
    return session_bottleneck_word(found.which);
}

static void
test_clear_cases(void)
{
    SessionShop one_box = rich_shop, one_person = rich_shop, slow = rich_shop, small = rich_shop;
    one_box.boxes = 1;
    one_box.cool = MIN60(150);
    g_assert_cmpstr(find_word(&one_box), ==, "flasks");
    one_person.people = 1;
    one_person.ram = MIN60(45);
    g_assert_cmpstr(find_word(&one_person), ==, "person");
    slow.flasks_per_load = 1; // all its time is melting, so a larger charge gains little
    slow.heat = MIN60(95);
    g_assert_cmpstr(find_word(&slow), ==, "furnace");
    small.flasks_per_load = 1; // all its time is charging and skimming, once a load
    small.heat = MIN60(4);
    small.charge = MIN60(20);
    small.skim = MIN60(10);
    g_assert_cmpstr(find_word(&small), ==, "crucible");
    SessionShop hasty = rich_shop; // not even one flask: only hours help
    hasty.hours = MIN60(90);
    g_assert_cmpstr(find_word(&hasty), ==, "hours");
}

static void
test_gains(void)
{
    SessionShop shop = rich_shop;
    shop.people = 1;
    shop.boxes = 3;
    int now = 0, then = 0;
    SessionBottleneck found;
    g_assert_true(session_plan_most(&shop, &now, NULL, NULL));
    g_assert_true(session_bottleneck_find(&shop, now, &found, NULL, NULL));
    SessionShop richer = shop;
    richer.boxes = 4;
    g_assert_true(session_plan_most(&richer, &then, NULL, NULL));
    g_assert_cmpint(found.gain[SESSION_MORE_FLASK], ==, then - now);
    richer = shop;
    richer.people = 2;
    g_assert_true(session_plan_most(&richer, &then, NULL, NULL));
    g_assert_cmpint(found.gain[SESSION_MORE_PERSON], ==, then - now);
    richer = shop;
    richer.hours += 3600;
    g_assert_true(session_plan_most(&richer, &then, NULL, NULL));
    g_assert_cmpint(found.gain[SESSION_MORE_HOUR], ==, then - now);
    richer = shop;
    richer.flasks_per_load = 5;
    richer.heat = MIN60(25); // 5 min a flask as before
    g_assert_true(session_plan_most(&richer, &then, NULL, NULL));
    g_assert_cmpint(found.gain[SESSION_MORE_CRUCIBLE], ==, then - now);
    richer = shop;
    richer.heat = MIN60(10);
    g_assert_true(session_plan_most(&richer, &then, NULL, NULL));
    g_assert_cmpint(found.gain[SESSION_MORE_FURNACE], ==, then - now);
}

static void
test_stopped(void)
{
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    SessionBottleneck found = {.which = SESSION_MORE_PERSON};
    g_assert_false(session_bottleneck_find(&rich_shop, 3, &found, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    g_assert_cmpint(found.which, ==, SESSION_MORE_PERSON);
}

static SessionShop
make_random_shop(GRand *rand)
{
    SessionShop shop = rich_shop;
    shop.hours = MIN60(g_rand_double_range(rand, 200, 700));
    shop.heat = MIN60(g_rand_double_range(rand, 5, 80));
    shop.ram = MIN60(g_rand_double_range(rand, 5, 45));
    shop.cool = MIN60(g_rand_double_range(rand, 10, 130));
    shop.people = g_rand_int_range(rand, 1, 4);
    shop.boxes = g_rand_int_range(rand, 1, 8);
    shop.flasks_per_load = g_rand_int_range(rand, 1, 6);
    return shop;
}

// More of one thing never brings less. A faster furnace can upset the order of work by a flask, as
// list scheduling may; there the gain is 0, for one may always melt more slowly.
static void
test_more_is_not_less(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(5519);
    for (int i = 0; i < 200; i++) {
        SessionShop shop = make_random_shop(rand);
        int now = 0, then = 0;
        g_assert_true(session_plan_most(&shop, &now, NULL, NULL));
        for (int j = 0; j < 4; j++) {
            SessionShop richer = shop;
            richer.boxes += j == 0;
            richer.people += j == 1;
            richer.hours += j == 2 ? 1800 : 0;
            richer.heat *= j == 3 ? 0.7 : 1.0;
            g_assert_true(session_plan_most(&richer, &then, NULL, NULL));
            g_assert_cmpint(then, >=, j == 3 ? now - 1 : now);
        }
    }
}

// Whatever may hold a session back can be said, and says itself.
static void
test_words(void)
{
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        const char *word = session_bottleneck_word(i), *words = session_bottleneck_held(word);
        g_assert_true(g_str_has_prefix(words, "held back by "));
        g_assert_true(g_str_has_suffix(words, word));
    }
    g_assert_null(session_bottleneck_held("nothing"));
    g_assert_null(session_bottleneck_held(NULL));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/bottleneck/clear", test_clear_cases);
    g_test_add_func("/session/bottleneck/gains", test_gains);
    g_test_add_func("/session/bottleneck/stopped", test_stopped);
    g_test_add_func("/session/bottleneck/words", test_words);
    g_test_add_func("/session/bottleneck/more", test_more_is_not_less);
    return g_test_run();
}
