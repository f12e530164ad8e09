// SPDX-License-Identifier: GPL-3.0-or-later
// The temperatures of two furnaces over a session, its times and temperatures worked out by hand.
//
//   furnace 0  warm 600 to 4300, charge to 4480, melt to 6580, pours to 6900
//   furnace 1  warm 900 to 3100, charge to 3310, melt to 5010, pours to 5370
#include "session/curve.h"

#include "check.h"
#include "session/result.h"

#define AMBIENT 17.5
#define LENGTH 9100.0

static const MeltStep slow[] = {{310, 1300, 700, (char *)"Set 310"},
                                {735, 1700, 0, (char *)"Set 735"}};
static const MeltStep quick[] = {{1110, 2200, 0, (char *)"Set 1110"}};

static void
add_task(GArray *tasks, TaskKind kind, int furnace, double start, double end)
{
    SessionTask task = {.kind = kind,
                        .load = furnace,
                        .flask = kind == TASK_POUR ? furnace : -1,
                        .box = -1,
                        .job = furnace,
                        .furnace = furnace,
                        .start = start,
                        .end = end,
                        .label = g_strdup("task"),
                        .who = -1,
                        .key = g_strdup_printf("%d-%d", kind, furnace)};
    g_array_append_val(tasks, task);
}

static SessionPlan *
make_plan(double late)
{
    SessionPlan *plan = g_new0(SessionPlan, 1);
    plan->tasks = g_array_new(FALSE, FALSE, sizeof(SessionTask));
    g_array_set_clear_func(plan->tasks, session_task_clear);
    add_task(plan->tasks, TASK_WARM_UP, 0, 600, 4300);
    add_task(plan->tasks, TASK_WARM_UP, 1, 900 + late, 3100 + late);
    add_task(plan->tasks, TASK_CHARGE, 1, 3100 + late, 3310 + late);
    add_task(plan->tasks, TASK_MELT, 1, 3310 + late, 5010 + late);
    add_task(plan->tasks, TASK_CHARGE, 0, 4300, 4480);
    add_task(plan->tasks, TASK_MELT, 0, 4480, 6580);
    add_task(plan->tasks, TASK_POUR, 1, 5010 + late, 5370 + late);
    add_task(plan->tasks, TASK_POUR, 0, 6580, 6900);
    plan->length = LENGTH;
    plan->last_pour = 6900;
    return plan;
}

static SessionResult *
make_session(void)
{
    static const char *const names[] = {"old", "new", NULL};
    SessionHeat heats[] = {{"old", slow, G_N_ELEMENTS(slow), 735},
                           {"new", quick, G_N_ELEMENTS(quick), 1110}};
    g_autoptr(SessionPlan) plan = make_plan(0);
    g_autoptr(GArray) curve = session_curve_make(plan, heats, 2, AMBIENT);
    SessionResult *session = session_result_new();
    gsize n;
    session->furnaces = 2;
    session->furnace_names = g_strdupv((char **)names);
    session->curve = g_array_steal(curve, &n);
    session->n_curve = (guint)n;
    session_result_take(session, plan);
    return session;
}

typedef struct {
    double at, temperature;
    const char *prompt;
} Expected;

// The points of one furnace up to switching off.
static void
check_furnace(const SessionResult *session, int furnace, const Expected *expected, guint n)
{
    guint k = 0;
    for (guint i = 0; i < session->n_curve; i++) {
        const SessionFurnacePoint *point = &session->curve[i];
        if (i > 0)
            g_assert_cmpfloat(point->at, >=, session->curve[i - 1].at);
        if (point->furnace != furnace || k == n)
            continue;
        g_test_message("furnace %d: %g s, %g deg C, %s", furnace, point->at, point->temperature,
                       point->prompt ? point->prompt : "-");
        check_close(point->at, expected[k].at, 1e-12, "by hand");
        check_close(point->temperature, expected[k].temperature, 1e-12, "by hand");
        g_assert_cmpstr(point->prompt, ==, expected[k].prompt);
        k++;
    }
    g_assert_cmpuint(k, ==, n);
}

static const char off_old[] = "old: Switch off, lid on, let it cool slowly";
static const char off_new[] = "new: Switch off, lid on, let it cool slowly";

// A cold charge pulls the chamber down by a quarter of its rise over the shop.
static const Expected old[] = {{0, AMBIENT, NULL},
                               {600, AMBIENT, "old: Set 310"},
                               {600 + 1300, 310, NULL},
                               {600 + 2000, 310, "old: Set 735"},
                               {600 + 3700, 735, NULL},
                               {4300, 735, NULL},
                               {4480, 735 - 0.25 * 717.5, NULL},
                               {6580, 735, NULL},
                               {6900, 735, off_old}};

static void
test_two(void)
{
    g_autoptr(SessionResult) session = make_session();
    static const Expected new[] = {
        {0, AMBIENT, NULL},   {900, AMBIENT, "new: Set 1110"},    {3100, 1110, NULL},
        {3100, 1110, NULL},   {3310, 1110 - 0.25 * 1092.5, NULL}, {5010, 1110, NULL},
        {5370, 1110, off_new}};
    check_furnace(session, 0, old, G_N_ELEMENTS(old));
    check_furnace(session, 1, new, G_N_ELEMENTS(new));
    // It cools towards the shop with a time of two hours, from its own last pour.
    for (guint i = 0; i < session->n_curve; i++) {
        const SessionFurnacePoint *point = &session->curve[i];
        double from = point->furnace == 0 ? 6900 : 5370, hot = point->furnace == 0 ? 735 : 1110;
        if (point->at > from)
            check_close(point->temperature,
                        AMBIENT + (hot - AMBIENT) * exp((from - point->at) / 7200), 1e-12,
                        "exponential");
    }
    check_close(session->curve[session->n_curve - 1].at, LENGTH, 1e-12, "to the end");
}

// The second furnace is begun 700 s later: its curve moves, the other's stays.
static void
test_again(void)
{
    g_autoptr(SessionResult) before = make_session();
    g_autoptr(SessionPlan) plan = make_plan(700);
    g_autoptr(SessionResult) after = session_result_again(before, plan);
    static const Expected late[] = {{0, AMBIENT, NULL}, {1600, AMBIENT, "new: Set 1110"},
                                    {3800, 1110, NULL}, {3800, 1110, NULL},
                                    {3800, 1110, NULL}, {4010, 1110 - 0.25 * 1092.5, NULL},
                                    {5710, 1110, NULL}, {6070, 1110, off_new}};
    check_furnace(after, 1, late, G_N_ELEMENTS(late));
    g_assert_cmpstr(session_furnace_name(after, 1), ==, "new");
    g_assert_null(session_furnace_name(after, 2));
    g_assert_null(session_furnace_name(after, -1));
    guint set = 0;
    for (guint i = 0; i < after->n_curve; i++)
        if (after->curve[i].furnace == 0 && after->curve[i].prompt) {
            static const double at[] = {600, 2600, 6900};
            check_close(after->curve[i].at, at[set++], 1e-12, "as before");
        }
    g_assert_cmpuint(set, ==, 3);
}

// What is not used stays cold, and an only furnace needs no name.
static void
test_one(void)
{
    g_autoptr(SessionPlan) plan = make_plan(0);
    g_array_set_size(plan->tasks, 1); // only the first is warmed up
    SessionHeat heats[] = {{"old", slow, G_N_ELEMENTS(slow), 735},
                           {"new", quick, G_N_ELEMENTS(quick), 1110}};
    g_autoptr(GArray) curve = session_curve_make(plan, heats, 2, AMBIENT);
    for (guint i = 0; i < curve->len; i++)
        g_assert_cmpint(g_array_index(curve, SessionFurnacePoint, i).furnace, ==, 0);
    g_autoptr(GArray) alone = session_curve_make(plan, heats, 1, AMBIENT);
    g_assert_cmpuint(alone->len, ==, curve->len);
    g_assert_cmpstr(g_array_index(alone, SessionFurnacePoint, 1).prompt, ==, "Set 310");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/curve/two", test_two);
    g_test_add_func("/session/curve/again", test_again);
    g_test_add_func("/session/curve/one", test_one);
    return g_test_run();
}
