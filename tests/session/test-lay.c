// SPDX-License-Identifier: GPL-3.0-or-later
// Thousands of sessions of random shops against a checker that knows only the rules of the floor.
#include "check.h"
#include "rules.h"
#include "session/name.h"
#include "session/session.h"

static void
random_counts(GRand *rand, const SessionFloor *floor, int counts[SESSION_MOST_KINDS])
{
    memset(counts, 0, sizeof(int) * SESSION_MOST_KINDS);
    for (int i = 0; i < floor->n_kinds; i++)
        counts[i] = g_rand_int_range(rand, i == 0, 6);
}

// Every way, in or out of the hours, with any loads.
static void
test_every_way(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(60607);
    int laid = 0;
    for (int i = 0; i < 1500; i++) {
        SessionFloor floor = rules_random_floor(rand);
        int counts[SESSION_MOST_KINDS];
        random_counts(rand, &floor, counts);
        int most = g_rand_int_range(rand, 1, session_pack_largest(&floor) + 1);
        g_autoptr(SessionPacking) packing = session_pack(&floor, counts, most, NULL, NULL);
        g_assert_nonnull(packing);
        SessionWay way = session_way(i % SESSION_WAYS);
        g_autoptr(SessionPlan) plan = session_lay(
            &floor, (const SessionLoad *)(gpointer)packing->loads->data, packing->loads->len, &way,
            NULL, FALSE);
        // Only want of light or of sand for good keeps a load from being poured.
        g_assert_true(plan || isfinite(floor.light_to) || isinf(floor.sand_rest));
        if (!plan)
            continue;
        laid++;
        rules_check(&floor, plan);
        session_plan_name(plan, &floor);
        rules_check_names((const SessionTask *)(gpointer)plan->tasks->data, plan->tasks->len);
    }
    g_assert_cmpint(laid, >, 1100);
}

// The whole choice: keeps the hours, is not above the bound, gives what it promises.
static void
test_most(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(71933);
    int poured = 0;
    for (int i = 0; i < 60; i++) {
        SessionFloor floor = rules_random_floor(rand);
        SessionMost most;
        g_assert_true(session_floor_most(&floor, &most, NULL, NULL));
        g_assert_cmpfloat(most.worth, <=, most.bound.worth + 1e-6);
        g_assert_cmpint(most.moulds, <=, most.bound.moulds);
        if (most.moulds == 0)
            continue;
        poured++;
        g_autoptr(SessionPlan) plan = session_floor_plan(&floor, most.counts, SESSION_CALM, TRUE,
                                                         NULL, NULL);
        rules_check(&floor, plan);
        g_assert_true(plan->within);
        g_assert_cmpint(plan->flasks, ==, most.moulds);
        check_close(plan->worth, most.worth, 1e-9, "what was promised");
        g_autoptr(SessionPlan) soon = session_floor_plan(&floor, most.counts, SESSION_SOON, FALSE,
                                                         NULL, NULL);
        rules_check(&floor, soon);
        g_assert_cmpfloat(soon->last_pour, <=, plan->last_pour + 1e-6);
    }
    g_assert_cmpint(poured, >, 40);
}

// Pins hold, and only for what is pinned.
static void
test_pins(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(1207);
    for (int i = 0; i < 300; i++) {
        SessionFloor floor = rules_random_floor(rand);
        floor.light_to = floor.sand_ready = INFINITY;
        int counts[SESSION_MOST_KINDS];
        random_counts(rand, &floor, counts);
        static const TaskKind kinds[] = {TASK_RAM_DRAG, TASK_DRAW,  TASK_SHUT,  TASK_CHARGE,
                                         TASK_SKIM,     TASK_POUR,  TASK_MELT,  TASK_SHAKE_OUT,
                                         TASK_WARM_UP,  TASK_CLOSE, TASK_SET_UP};
        SessionPin pins[3];
        for (int j = 0; j < 3; j++) {
            TaskKind kind = kinds[g_rand_int_range(rand, 0, G_N_ELEMENTS(kinds))];
            pins[j] = (SessionPin){.kind = kind,
                                   .number = kind == TASK_CLOSE || kind == TASK_SET_UP
                                                 ? 0
                                                 : g_rand_int_range(rand, 1, 3),
                                   .at = g_rand_double_range(rand, 0, 30000)};
        }
        floor.pins = pins;
        floor.n_pins = 3;
        g_autoptr(SessionPacking) packing = session_pack(&floor, counts,
                                                         session_pack_largest(&floor), NULL, NULL);
        SessionWay way = session_way(i % SESSION_WAYS);
        g_autoptr(SessionPlan) plan = session_lay(
            &floor, (const SessionLoad *)(gpointer)packing->loads->data, packing->loads->len, &way,
            NULL, FALSE);
        g_assert_nonnull(plan);
        rules_check(&floor, plan);
    }
}

static void
test_stopped(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(5);
    SessionFloor floor = rules_random_floor(rand);
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    SessionMost most = {.moulds = -3};
    int counts[SESSION_MOST_KINDS] = {1};
    g_assert_false(session_floor_most(&floor, &most, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    g_assert_cmpint(most.moulds, ==, -3);
    g_assert_null(session_floor_plan(&floor, counts, SESSION_CALM, FALSE, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/lay/every-way", test_every_way);
    g_test_add_func("/session/lay/most", test_most);
    g_test_add_func("/session/lay/pins", test_pins);
    g_test_add_func("/session/lay/stopped", test_stopped);
    return g_test_run();
}
