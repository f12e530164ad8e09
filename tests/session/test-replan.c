// SPDX-License-Identifier: GPL-3.0-or-later
// Days that go otherwise than planned, planned again at every turn, against the rules of the floor.
#include "session/replan.h"

#include "check.h"
#include "rules.h"
#include "session/limits.h"
#include "session/result.h"
#include "session/session.h"

#define PINS 3

typedef struct {
    SessionFloor floor;
    SessionPin pins[PINS];
    SessionResult *plan;
} Day;

// Now and then some work is put to a time by hand.
static void
add_random_pins(GRand *rand, Day *day)
{
    static const TaskKind kinds[] = {TASK_RAM_DRAG, TASK_RAM_COPE, TASK_DRAW, TASK_SHUT,
                                     TASK_CHARGE,   TASK_SKIM,     TASK_POUR, TASK_SHAKE_OUT};
    day->floor.pins = day->pins;
    day->floor.n_pins = g_rand_boolean(rand) ? PINS : 0;
    for (guint i = 0; i < day->floor.n_pins; i++)
        day->pins[i] = (SessionPin){kinds[g_rand_int_range(rand, 0, G_N_ELEMENTS(kinds))],
                                    g_rand_int_range(rand, 1, 5),
                                    g_rand_double_range(rand, 0, 1.1 * day->floor.hours)};
}

static void
make_day(GRand *rand, Day *day)
{
    day->floor = rules_random_floor(rand);
    add_random_pins(rand, day);
    int counts[SESSION_MOST_KINDS] = {0};
    for (int i = 0; i < day->floor.n_kinds; i++)
        counts[i] = g_rand_int_range(rand, i == 0, 4);
    g_autoptr(SessionPlan)
                  plan = session_floor_plan(&day->floor, counts, SESSION_CALM, TRUE, NULL, NULL);
    if (!plan) { // sand that never comes back does not do for so many
        day->floor.sand_rest = 1234;
        plan = session_floor_plan(&day->floor, counts, SESSION_CALM, TRUE, NULL, NULL);
    }
    g_assert_nonnull(plan);
    day->plan = session_result_new();
    day->plan->limits = session_limits_of(&day->floor);
    day->plan->hours = day->floor.hours;
    day->plan->people = day->floor.people;
    day->plan->furnaces = day->floor.n_furnaces;
    day->plan->benches = day->floor.benches < 1000 ? day->floor.benches : 0;
    day->plan->places = day->floor.places < 1000 ? day->floor.places : 0;
    for (int i = 0; i < day->floor.n_boxes; i++) {
        day->plan->boxes_of_kind[i] = day->floor.boxes[i];
        day->plan->boxes += day->floor.boxes[i];
    }
    session_result_take(day->plan, plan);
}

static void
add_done(GArray *done, const SessionTask *task, double start, double end)
{
    SessionDone one = {.key = task->key, .start = start, .end = end, .who = task->who};
    g_array_append_val(done, one);
}

static const SessionDone *
find_done(const GArray *done, const char *key)
{
    for (guint i = 0; i < done->len; i++)
        if (g_str_equal(g_array_index(done, SessionDone, i).key, key))
            return &g_array_index(done, SessionDone, i);
    return NULL;
}

static const SessionTask *
find_task(const SessionResult *plan, const char *key)
{
    for (guint i = 0; i < plan->n_tasks; i++)
        if (g_str_equal(plan->tasks[i].key, key))
            return &plan->tasks[i];
    return NULL;
}

static void
check_again(const SessionFloor *floor, const SessionResult *before, const GArray *done, double now,
            const SessionResult *after)
{
    g_assert_cmpuint(after->n_tasks, ==, before->n_tasks);
    for (guint i = 0; i < before->n_tasks; i++) {
        const SessionTask *task = find_task(after, before->tasks[i].key);
        g_assert_nonnull(task);
        const SessionDone *fact = find_done(done, task->key);
        g_assert_cmpint(task->kind, ==, before->tasks[i].kind);
        g_assert_cmpint(task->load, ==, before->tasks[i].load);
        g_assert_cmpint(task->job, ==, before->tasks[i].job);
        g_assert_cmpint(task->furnace, ==, before->tasks[i].furnace);
        if (!fact) {
            if (task->kind != TASK_MELT && task->kind != TASK_COOL)
                g_assert_cmpfloat(task->start, >=, now);
            continue;
        }
        g_assert_cmpfloat(task->start, ==, fact->start);
        g_assert_cmpint(task->box, ==, before->tasks[i].box);
        if (isnan(fact->end))
            g_assert_cmpfloat(task->end, >=, now);
        else
            g_assert_cmpfloat(task->end, ==, fact->end);
    }
    // What it says it has let go is not asked of it.
    SessionFloor kept = *floor;
    kept.light_to = after->past_light ? INFINITY : floor->light_to;
    kept.sand_ready = after->past_sand ? INFINITY : floor->sand_ready;
    rules_check_tasks(&kept, after->tasks, after->n_tasks, now);
    g_autofree char *caution = session_result_caution(after);
    g_assert_true((after->past_light || after->past_sand) == (caution != NULL));
    rules_check_names(after->tasks, after->n_tasks);
    for (guint i = 1; i < after->n_curve; i++)
        g_assert_cmpfloat(after->curve[i].at, >=, after->curve[i - 1].at);
}

// Everything as planned, cut off at some moment: the rest is planned as it was.
static void
test_as_planned(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(811);
    for (int i = 0; i < 150; i++) {
        Day day;
        make_day(rand, &day);
        double now = g_rand_double_range(rand, 0, day.plan->length);
        g_autoptr(GArray) done = g_array_new(FALSE, FALSE, sizeof(SessionDone));
        for (guint j = 0; j < day.plan->n_tasks; j++) {
            const SessionTask *task = &day.plan->tasks[j];
            if (task->start <= now)
                add_done(done, task, task->start, task->end <= now ? task->end : NAN);
        }
        g_autoptr(GError) error = NULL;
        g_autoptr(SessionResult) again = session_replan(
            day.plan, (const SessionDone *)(gpointer)done->data, done->len, now, NULL, &error);
        g_assert_no_error(error);
        check_again(&day.floor, day.plan, done, now, again);
        session_result_unref(day.plan);
    }
}

// One turn of a day: what begins or ends next does so, and the rest is planned again.
typedef struct {
    GArray *done;
    GArray *ends; // double: when what is running will really end
    double now;
} Live;

// TRUE if something takes longer than planned: what the plan lets begin now has to wait for it.
static gboolean
is_late(const Live *live, const SessionResult *plan)
{
    for (guint i = 0; i < live->done->len; i++) {
        const SessionDone *fact = &g_array_index(live->done, SessionDone, i);
        if (isnan(fact->end) && find_task(plan, fact->key)->end <= live->now &&
            g_array_index(live->ends, double, i) > live->now)
            return TRUE;
    }
    return FALSE;
}

static void
go_to(Live *live, const SessionResult *plan, GRand *rand)
{
    double next = INFINITY;
    gboolean late = is_late(live, plan);
    for (guint i = 0; i < live->done->len; i++)
        if (isnan(g_array_index(live->done, SessionDone, i).end))
            next = MIN(next, g_array_index(live->ends, double, i));
    for (guint i = 0; i < plan->n_tasks; i++)
        if (!late && !find_done(live->done, plan->tasks[i].key))
            next = MIN(next, plan->tasks[i].start);
    live->now = MAX(next, live->now);
    for (guint i = 0; i < live->done->len; i++) {
        SessionDone *fact = &g_array_index(live->done, SessionDone, i);
        double end = g_array_index(live->ends, double, i);
        if (isnan(fact->end) && end <= live->now)
            fact->end = MAX(end, fact->start);
    }
    for (guint i = 0; i < plan->n_tasks && !late && !is_late(live, plan); i++) {
        const SessionTask *task = &plan->tasks[i];
        if (find_done(live->done, task->key) || task->start > live->now)
            continue;
        double slow = task->kind == TASK_COOL ? 1.0 : g_rand_double_range(rand, 0.6, 1.7);
        double end = task->start + (task->end - task->start) * slow;
        add_done(live->done, task, task->start, NAN);
        g_array_append_val(live->ends, end);
    }
}

static void
live_through(GRand *rand, const Day *day)
{
    Live live = {.done = g_array_new(FALSE, FALSE, sizeof(SessionDone)),
                 .ends = g_array_new(FALSE, FALSE, sizeof(double))};
    g_autoptr(SessionResult) plan = session_result_ref(day->plan);
    for (int turn = 0; turn < 25; turn++) {
        g_autoptr(GError) error = NULL;
        go_to(&live, plan, rand);
        // Always from the first plan, and from the one before: both work.
        const SessionResult *from = turn % 2 ? plan : day->plan;
        g_autoptr(GArray) told = g_array_new(FALSE, FALSE, sizeof(SessionDone));
        for (guint i = 0; i < live.done->len; i++) {
            SessionDone one = g_array_index(live.done, SessionDone, i);
            one.key = find_task(day->plan, one.key)->key; // outlives the plans
            g_array_index(live.done, SessionDone, i).key = one.key;
            g_array_append_val(told, one);
        }
        SessionResult *again = session_replan(from, (const SessionDone *)(gpointer)told->data,
                                              told->len, live.now, NULL, &error);
        g_assert_no_error(error);
        check_again(&day->floor, plan, told, live.now, again);
        session_result_unref(plan);
        plan = again;
    }
    g_array_unref(live.done);
    g_array_unref(live.ends);
}

static void
test_lived(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(4099);
    for (int i = 0; i < 40; i++) {
        Day day;
        make_day(rand, &day);
        live_through(rand, &day);
        session_result_unref(day.plan);
    }
}

// Only the last thing is told: what must have come before counts as done, and nothing breaks.
static void
test_gaps(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(3571);
    int blocked = 0;
    for (int i = 0; i < 200; i++) {
        Day day;
        make_day(rand, &day);
        g_autoptr(GArray) done = g_array_new(FALSE, FALSE, sizeof(SessionDone));
        double now = 0;
        for (guint j = 0; j < day.plan->n_tasks; j++) {
            const SessionTask *task = &day.plan->tasks[j];
            if (g_rand_int_range(rand, 0, 9) > 0)
                continue;
            double start = task->start + g_rand_double_range(rand, -900, 900);
            add_done(done, task, start, g_rand_boolean(rand) ? start + 61 : NAN);
            now = MAX(now, start);
        }
        g_autoptr(GError) error = NULL;
        g_autoptr(SessionResult) again = session_replan(
            day.plan, (const SessionDone *)(gpointer)done->data, done->len, now, NULL, &error);
        // Flasks rammed in no order can block each other for good.
        blocked += !again;
        if (!again)
            check_error(error, BASE_ERROR_VALUE, "hold the flasks");
        for (guint j = 0; again && j < day.plan->n_tasks; j++)
            g_assert_nonnull(find_task(again, day.plan->tasks[j].key));
        for (guint j = 0; again && j < done->len; j++) {
            const SessionDone *fact = &g_array_index(done, SessionDone, j);
            g_assert_cmpfloat(find_task(again, fact->key)->start, ==, fact->start);
        }
        session_result_unref(day.plan);
    }
    g_test_message("%d blocked", blocked);
    g_assert_cmpint(blocked, <, 20);
}

static void
check_refused(const SessionResult *plan, SessionDone *done, guint n, double now, const char *words)
{
    g_autoptr(GError) error = NULL;
    g_assert_null(session_replan(plan, done, n, now, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, words);
}

static void
test_refused(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(7);
    Day day;
    make_day(rand, &day);
    SessionDone twice[2] = {{"set-up", 0, 60, 0}, {"set-up", 0, 61, 0}};
    check_refused(day.plan, twice, 2, 100, "twice");
    SessionDone strange = {"pour-999", 0, 60, 0};
    check_refused(day.plan, &strange, 1, 100, "pour-999");
    SessionDone back = {"set-up", 60, 0, 0};
    check_refused(day.plan, &back, 1, 100, "set-up");
    SessionDone never = {"set-up", NAN, 0, 0};
    check_refused(day.plan, &never, 1, 100, "set-up");
    SessionDone ghost = {"set-up", 0, 60, 99};
    check_refused(day.plan, &ghost, 1, 100, "hands");
    check_refused(day.plan, NULL, 0, NAN, "session");
    g_autoptr(SessionResult) empty = session_result_new();
    check_refused(empty, NULL, 0, 5, "session");
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    g_assert_null(session_replan(day.plan, NULL, 0, 5, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    session_result_unref(day.plan);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/replan/as-planned", test_as_planned);
    g_test_add_func("/session/replan/lived", test_lived);
    g_test_add_func("/session/replan/gaps", test_gaps);
    g_test_add_func("/session/replan/refused", test_refused);
    return g_test_run();
}
