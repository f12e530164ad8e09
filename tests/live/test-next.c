// SPDX-License-Identifier: GPL-3.0-or-later
// What comes next, early or late; warnings; and the plain way of planning again, checked for the
// rules any plan of the rest must keep. Times are the sample's, added up by hand.
#include "live/next.h"

#include <string.h>

#include "check.h"
#include "live/live.h"
#include "live/shift.h"
#include "live/task.h"
#include "sample.h"

typedef struct {
    LiveSheet *sheet;
    GPtrArray *nodes; // ticks
} Fixture;

static void
tick(Fixture *f, const char *what, const char *key, double minutes)
{
    g_ptr_array_add(f->nodes, sample_tick(what, key, SAMPLE_START + minutes * 60));
}

static void
set_up(Fixture *f, gconstpointer data)
{
    f->sheet = sample_sheet(2);
    f->nodes = g_ptr_array_new_with_free_func((GDestroyNotify)node_unref);
    g_ptr_array_add(f->nodes, live_sheet_node(f->sheet));
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    live_replan_set(NULL);
    live_sheet_free(f->sheet);
    g_ptr_array_unref(f->nodes);
}

static LiveDay *
make_day(Fixture *f)
{
    LiveLines lines = {f->nodes, NULL, f->nodes->len, FALSE};
    return live_day_make(f->sheet, &lines);
}

static const SessionTask *
find_task(const SessionResult *plan, const char *key)
{
    for (guint i = 0; i < plan->n_tasks; i++)
        if (g_str_equal(plan->tasks[i].key, key))
            return &plan->tasks[i];
    g_error("no task %s", key);
}

// Hands, furnace and boxes do one thing at a time, keys are kept, true times too, and nothing not
// begun starts before now.
static void
check_rest(const LiveDay *day, const SessionResult *rest, double now)
{
    g_assert_cmpuint(rest->n_tasks, ==, day->n_tasks);
    for (guint i = 0; i < rest->n_tasks; i++) {
        const SessionTask *a = &rest->tasks[i];
        const LiveTask *task = live_day_find(day, a->key);
        g_assert_nonnull(task);
        if (task->state == LIVE_OVER) {
            check_close(a->start, task->start, 1e-12, "true");
            check_close(a->end, task->end, 1e-12, "true");
        } else if (task->state == LIVE_TO_DO && a->kind != TASK_COOL) {
            g_assert_cmpfloat(a->start, >=, now);
        }
        for (guint k = 0; k < i; k++) {
            const SessionTask *b = &rest->tasks[k];
            gboolean shared = (a->who >= 0 && a->who == b->who) ||
                              (a->furnace >= 0 && a->furnace == b->furnace) ||
                              (a->flask >= 0 && a->flask == b->flask);
            const LiveTask *other = live_day_find(day, b->key);
            if (shared && (task->state == LIVE_TO_DO || other->state == LIVE_TO_DO))
                g_assert_true(a->start >= b->end - 1e-6 || b->start >= a->end - 1e-6);
        }
    }
}

static void
test_shift(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    tick(f, "done", "set-up", 31); // 11 min late, with the furnace behind it
    tick(f, "begin", "ram-1", 32);
    g_autoptr(LiveDay) day = make_day(f);
    static const double nows[] = {32, 40, 63, 170};
    for (guint i = 0; i < G_N_ELEMENTS(nows); i++) {
        g_autoptr(SessionResult) rest = live_replan(day, nows[i] * 60, NULL, &error);
        g_assert_no_error(error);
        check_rest(day, rest, nows[i] * 60);
    }
    g_autoptr(SessionResult) rest = live_replan(day, 32 * 60, NULL, &error);
    // Warm until 31 + 120, then charge, melt, pour.
    check_close(find_task(rest, "charge-1")->start, 151 * 60, 1e-12, "by hand");
    check_close(find_task(rest, "pour-1")->start, (151 + 5 + 47) * 60, 1e-12, "by hand");
    check_close(rest->curve[0].at, 31 * 60, 1e-12, "the prompt moves with the warm-up");
    // Each load's first flask could be opened three minutes before its turn.
    check_close(rest->length, f->sheet->session->length + (11 - 2 * 3) * 60, 1e-12, "by hand");
    // An early pour makes nothing start before its planned time.
    g_autoptr(SessionResult) same = live_shift(f->sheet->session, NULL, 0, 0, NULL, &error);
    for (guint i = 0; i < same->n_tasks; i++)
        check_close(same->tasks[i].start, f->sheet->session->tasks[i].start, 1e-12, "unchanged");
}

static guint asked = 0;

static SessionResult *
refuse_to_plan(const SessionResult *plan, const SessionDone *done, guint n_done, double now,
               Progress *progress, GError **error)
{
    asked++;
    base_error_set(error, n_done > 1 ? BASE_ERROR_CANCELLED : BASE_ERROR_VALUE, NULL, NULL, "no",
                   NULL);
    return NULL;
}

// What the planner refuses is moved on; what was stopped stays stopped.
static void
test_planner(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    live_replan_set(refuse_to_plan);
    g_autoptr(LiveDay) day = make_day(f);
    g_autoptr(SessionResult) rest = live_replan(day, 60, NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(rest);
    tick(f, "done", "set-up", 20);
    g_autoptr(LiveDay) later = make_day(f);
    g_assert_null(live_replan(later, 1300, NULL, &error));
    check_error(error, BASE_ERROR_CANCELLED, "no");
    g_assert_cmpuint(asked, ==, 2);
}

static void
check_first(Fixture *f, double minutes, gboolean furnace, const char *key, gboolean begins,
            LivePhase phase, const char *words)
{
    g_autoptr(LiveDay) day = make_day(f);
    g_autoptr(SessionResult) settled = live_replan(day, day->noted, NULL, NULL);
    g_autoptr(SessionResult) rest = live_replan(day, minutes * 60, NULL, NULL);
    g_autoptr(GArray) actions = live_actions(day, settled, rest, furnace);
    g_assert_cmpuint(actions->len, >, 0);
    const LiveAction *first = &g_array_index(actions, LiveAction, 0);
    g_autofree char *text = live_action_countdown(first, minutes * 60);
    g_assert_cmpstr(first->task->task->key, ==, key);
    g_assert_cmpint(first->begins, ==, begins);
    g_assert_cmpint(live_action_phase(first, minutes * 60), ==, phase);
    g_assert_cmpstr(text, ==, words);
}

static void
test_next(Fixture *f, gconstpointer data)
{
    check_first(f, 0, FALSE, "set-up", FALSE, LIVE_NOW, "now, 20:00 left");
    check_first(f, 23.5, FALSE, "set-up", FALSE, LIVE_LATE, "late by 3:30");
    tick(f, "done", "set-up", 24);
    check_first(f, 24, FALSE, "ram-1", TRUE, LIVE_NOW, "now");
    check_first(f, 25.5, FALSE, "ram-1", TRUE, LIVE_LATE, "late by 1:30");
    check_first(f, 100, TRUE, "warm-up", FALSE, LIVE_NOW, "ready in 44:00");
    tick(f, "begin", "ram-1", 26);
    check_first(f, 30.25, FALSE, "ram-1", FALSE, LIVE_NOW, "now, 25:45 left");
    check_first(f, 57, FALSE, "ram-1", FALSE, LIVE_LATE, "late by 1:00");
    tick(f, "done", "ram-1", 57);
    tick(f, "begin", "ram-2", 57);
    tick(f, "done", "ram-2", 87);
    check_first(f, 87, FALSE, "charge-1", FALSE, LIVE_WAIT, "in 57:00");
    check_first(f, 145, TRUE, "warm-up", FALSE, LIVE_LATE, "late by 1:00");
}

// Later things move on by themselves; the first keeps the time it is late by.
static void
test_behind(Fixture *f, gconstpointer data)
{
    g_autoptr(LiveDay) day = make_day(f);
    g_autoptr(SessionResult) settled = live_replan(day, 0, NULL, NULL);
    g_autoptr(SessionResult) rest = live_replan(day, 50 * 60, NULL, NULL);
    g_autoptr(GArray) actions = live_actions(day, settled, rest, FALSE);
    const LiveAction *first = &g_array_index(actions, LiveAction, 0);
    const LiveAction *second = &g_array_index(actions, LiveAction, 1);
    check_close(first->until, 20 * 60, 1e-12, "set-up as planned");
    g_assert_cmpstr(second->task->task->key, ==, "ram-1");
    check_close(second->from, 70 * 60, 1e-12, "after a set-up begun at 50 min");
    check_close(second->behind, 50 * 60, 1e-12, "planned at 20 min");
}

static void
check_prompt(const SessionResult *plan, double now, const char *words, double when)
{
    double at = NAN;
    g_autofree char *prompt = live_next_prompt(plan, now, &at);
    g_assert_cmpstr(prompt, ==, words);
    check_close(at, when, 0, "the curve");
}

static void
test_prompt(Fixture *f, gconstpointer data)
{
    double at = 0;
    const SessionResult *plan = f->sheet->session;
    check_prompt(plan, 0, "Set 300 °C", 1200);
    check_prompt(plan, 1259, "Set 300 °C", 1200); // still to be seen
    check_prompt(plan, 1261, "Set 760 °C", 5000);
    g_assert_null(live_next_prompt(plan, 6000, &at));

    // A warm-up ticked at once leaves its settings behind in one minute: the last is the one to
    // turn to.
    static char words[][16] = {"Set 300 °C", "Set 500 °C", "Set 720 °C", "Switch off"};
    SessionFurnacePoint curve[] = {{.at = 100, .prompt = words[0]},
                                   {.at = 117, .prompt = words[1]},
                                   {.at = 131, .prompt = words[2]},
                                   {.at = 900, .prompt = words[3]}};
    SessionResult short_day = {.curve = curve, .n_curve = G_N_ELEMENTS(curve)};
    check_prompt(&short_day, 90, words[0], 100);
    check_prompt(&short_day, 140, words[2], 131);
    check_prompt(&short_day, 192, words[3], 900);

    // Of two furnaces neither hides the other: what is due is told together, and so is what comes
    // at one moment.
    curve[1].furnace = curve[3].furnace = 1;
    curve[2].at = 899.5;
    check_prompt(&short_day, 90, "Set 300 °C", 100);
    check_prompt(&short_day, 140, "Set 300 °C; Set 500 °C", 117);
    check_prompt(&short_day, 192, "Set 720 °C; Switch off", 900);
}

static gboolean
warns(Fixture *f, double minutes, const char *words)
{
    UnitSet units = unit_set_default();
    g_autoptr(LiveDay) day = make_day(f);
    g_autoptr(SessionResult) rest = live_replan(day, minutes * 60, NULL, NULL);
    g_autoptr(GPtrArray) warnings = live_warnings(day, rest, minutes * 60, &units);
    for (guint i = 0; i < warnings->len; i++)
        if (strstr(warnings->pdata[i], words))
            return TRUE;
    return FALSE;
}

static void
note_heat(Fixture *f, double temperature)
{
    LiveTick hot = {LIVE_TEMPERATURE, SAMPLE_START, SAMPLE_START, "pour-1", -1, temperature, "x"};
    g_ptr_array_add(f->nodes, live_tick_node(&hot));
}

static void
test_warnings(Fixture *f, gconstpointer data)
{
    g_assert_false(warns(f, 0, ""));
    g_assert_false(warns(f, 10 + 20, "over its hours")); // the sample has ten minutes to spare
    g_assert_true(warns(f, 10 + 22 + 20, "over its hours"));
    tick(f, "done", "melt-1", 190);
    g_assert_false(warns(f, 219, "molten for"));
    g_assert_true(warns(f, 221, "Load 1 has been molten for 31:00"));
    tick(f, "done", "pour-1", 222);
    g_assert_true(warns(f, 222, "molten for")); // flask 2 still waits
    tick(f, "done", "pour-2", 224);
    g_assert_false(warns(f, 260, "molten for"));
    note_heat(f, 731);
    g_assert_false(warns(f, 225, "misruns"));
    note_heat(f, 697);
    g_assert_true(warns(f, 225, "697 °C"));
    g_assert_true(warns(f, 225, "735 °C"));
}

static void
test_weighed(Fixture *f, gconstpointer data)
{
    g_autoptr(LiveDay) none = make_day(f);
    g_assert_null(live_last_weighed(none));
    tick(f, "done", "charge-1", 150);
    g_autoptr(LiveDay) charged = make_day(f);
    g_assert_cmpstr(live_last_weighed(charged)->task->key, ==, "charge-1");
    tick(f, "done", "pour-1", 200);
    tick(f, "begin", "ram-3", 203);
    g_autoptr(LiveDay) poured = make_day(f);
    g_assert_cmpstr(live_last_weighed(poured)->task->key, ==, "pour-1");
}

// Every kind has a word that leads back to it, and hot work its caution.
static void
test_kinds(void)
{
    for (guint i = 0; live_task_word((TaskKind)i); i++) {
        TaskKind kind;
        g_assert_true(live_task_kind(live_task_word((TaskKind)i), &kind));
        g_assert_cmpint(kind, ==, i);
    }
    static const TaskKind hot[] = {TASK_CHARGE, TASK_MELT, TASK_SKIM, TASK_POUR, TASK_SHAKE_OUT};
    for (guint i = 0; i < G_N_ELEMENTS(hot); i++)
        g_assert_nonnull(live_task_caution(hot[i]));
    g_assert_cmpstr(live_task_word(TASK_CLOSE), ==, "close");
    g_assert_null(live_task_word((TaskKind)99));
    TaskKind kind;
    g_assert_false(live_task_kind("dance", &kind));
    g_assert_false(live_task_kind(NULL, &kind));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/live/next/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("shift", test_shift);
    ADD("planner", test_planner);
    ADD("next", test_next);
    ADD("behind", test_behind);
    ADD("prompt", test_prompt);
    ADD("warnings", test_warnings);
    ADD("weighed", test_weighed);
    g_test_add_func("/live/next/kinds", test_kinds);
    return g_test_run();
}
