// SPDX-License-Identifier: GPL-3.0-or-later
// A session sorted into rows: nothing is left out, nothing twice, and the ways from task to task.
#include "check.h"
#include "sample.h"

static void
check_rows(const TimelineChart *chart)
{
    const SessionResult *session = chart->session;
    guint wanted = 0, *seen = g_new0(guint, session->n_tasks);
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *t = &session->tasks[i];
        wanted += (t->furnace >= 0) + (t->person != 0) + (t->box >= 0);
    }
    g_assert_cmpuint(chart->n_bars, ==, wanted);
    for (guint r = 0; r < chart->n_rows; r++) {
        const TimelineRow *row = &chart->rows[r];
        for (guint i = row->first_bar; i < row->first_bar + row->n_bars; i++) {
            const TimelineBar *bar = &chart->bars[i];
            const SessionTask *t = &session->tasks[bar->task];
            int index = row->kind == TIMELINE_FURNACE  ? t->furnace
                        : row->kind == TIMELINE_PERSON ? t->who
                                                       : t->box;
            g_assert_cmpuint(bar->row, ==, r);
            g_assert_cmpint(index, ==, row->index);
            g_assert_cmpfloat(bar->start, ==, t->start);
            if (i > row->first_bar)
                g_assert_cmpfloat(bar->start, >=, chart->bars[i - 1].start);
            seen[bar->task]++;
        }
    }
    for (guint i = 0; i < session->n_tasks; i++)
        g_assert_cmpuint(seen[i], >, 0);
    g_free(seen);
}

static void
test_rows(void)
{
    UnitSet units = unit_set_default();
    SessionResult *session = sample_long(23, 3, 2, 3, 7);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    g_assert_cmpuint(chart->n_rows, ==, 2 + 3 + 7);
    g_assert_cmpstr(chart->rows[0].label, ==, "Furnace 1");
    g_assert_cmpstr(chart->rows[4].label, ==, "Person 3");
    g_assert_cmpstr(chart->rows[11].label, ==, "Flask 7");
    check_rows(chart);
    g_assert_cmpuint(chart->n_loads, ==, 8);
    g_assert_cmpuint(chart->loads[7].n_pours, ==, 2); // 23 = 7 * 3 + 2
    sample_long_free(session);
}

// By hand, minutes of the sample over its 233.
static void
test_idle(void)
{
    SampleSession sample;
    UnitSet units = unit_set_default();
    sample_session_fill(&sample);
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    check_close(chart->rows[0].idle, 1 - (103.5 + 42 + 3.5 + 42.5 + 3.5) / 233, 1e-12, "by hand");
    check_close(chart->rows[1].idle, 1 - (17.5 + 28.5 + 28.5 + 3.5 + 3.5 + 20.5) / 233, 1e-12,
                "by hand");
    // A box is taken from ramming to the end of cooling, also while its mould waits.
    check_close(chart->rows[2].idle, 1 - (201 - 17.5) / 233, 1e-12, "by hand");
    g_assert_cmpuint(chart->n_waits, ==, 2); // each rammed mould for its metal
    check_close(chart->waits[0].start, 46 * 60, 1e-12, "rammed");
    check_close(chart->waits[0].end, 163 * 60, 1e-12, "poured");
    g_assert_cmpuint(chart->waits[0].task, ==, 5);
}

static gboolean
needs(const TimelineChart *chart, guint task, guint other)
{
    gboolean found = FALSE, back = FALSE;
    for (guint i = chart->needs_start[task]; i < chart->needs_start[task + 1]; i++)
        found |= chart->needs[i] == other;
    for (guint i = chart->users_start[other]; i < chart->users_start[other + 1]; i++)
        back |= chart->users[i] == task;
    g_assert_cmpint(found, ==, back);
    return found;
}

// Where the plan says nothing, by the order of the work.
static void
test_guessed_needs(void)
{
    SampleSession sample;
    UnitSet units = unit_set_default();
    sample_session_fill(&sample);
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    g_assert_true(needs(chart, 1, 0)); // warming up after setting up
    g_assert_true(needs(chart, 2, 0)); // ramming too
    g_assert_true(needs(chart, 4, 1)); // melting after warming up
    g_assert_true(needs(chart, 5, 4)); // pouring after melting
    g_assert_true(needs(chart, 5, 2)); // and ramming
    g_assert_true(needs(chart, 6, 5)); // cooling after pouring
    g_assert_true(needs(chart, 7, 5)); // the furnace is free after the pour
    g_assert_true(needs(chart, 8, 7));
    g_assert_true(needs(chart, 8, 3));
    g_assert_false(needs(chart, 3, 2)); // hands are anybody's
    guint last;
    check_close(timeline_earliest(chart, 5, &last), 163 * 60, 1e-12, "end of melting");
    g_assert_cmpuint(last, ==, 4);
    check_close(timeline_earliest(chart, 0, &last), 0.0, 0, "nothing");
    g_assert_cmpuint(last, ==, G_MAXUINT);
    for (guint i = 0; i < sample.session.n_tasks; i++)
        g_assert_cmpfloat(timeline_earliest(chart, i, NULL), <=, sample.tasks[i].start + 1e-6);
}

// Where it says something, that and no more.
static void
test_told_needs(void)
{
    UnitSet units = unit_set_default();
    SessionResult *session = sample_long(11, 2, 1, 2, 4);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    guint n = 0;
    for (guint i = 0; i < session->n_tasks; i++) {
        n += session->tasks[i].n_after;
        for (guint k = 0; k < session->tasks[i].n_after; k++)
            g_assert_true(needs(chart, i, session->tasks[i].after[k]));
    }
    g_assert_cmpuint(n, >, 0);
    g_assert_cmpuint(chart->needs_start[session->n_tasks], ==, n);
    g_assert_cmpuint(chart->users_start[session->n_tasks], ==, n);
    // What is out of range, or the task itself, is left out.
    guint wrong[] = {9999, 3};
    guint *kept = session->tasks[3].after, n_kept = session->tasks[3].n_after;
    session->tasks[3].after = wrong;
    session->tasks[3].n_after = 2;
    g_autoptr(TimelineChart) odd = timeline_chart_new(session, NULL, &units);
    g_assert_cmpuint(odd->needs_start[4] - odd->needs_start[3], ==, 0);
    session->tasks[3].after = kept;
    session->tasks[3].n_after = n_kept;
    sample_long_free(session);
}

static void
test_life(void)
{
    UnitSet units = unit_set_default();
    SessionResult *session = sample_long(23, 3, 2, 3, 7);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    static const TaskKind order[] = {TASK_RAM_DRAG, TASK_RAM_COPE, TASK_DRAW,     TASK_SHUT,
                                     TASK_POUR,     TASK_COOL,     TASK_SHAKE_OUT};
    for (int flask = 0; flask < 23; flask++) {
        g_autoptr(GArray) life = timeline_life(chart, flask);
        g_assert_cmpuint(life->len, ==, G_N_ELEMENTS(order));
        for (guint i = 0; i < life->len; i++) {
            const SessionTask *task = &session->tasks[g_array_index(life, guint, i)];
            g_assert_cmpint(task->flask, ==, flask);
            g_assert_cmpint(task->kind, ==, order[i]);
        }
    }
    g_autoptr(GArray) none = timeline_life(chart, -1);
    g_assert_cmpuint(none->len, ==, 0);
    sample_long_free(session);
}

static void
test_keys(void)
{
    UnitSet units = unit_set_default();
    SampleSession sample;
    sample_session_fill(&sample);
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    static const char *const keys[] = {"set-up", "warm-up", "ram-1", "ram-2", "melt-1", "pour-1"};
    for (guint i = 0; i < G_N_ELEMENTS(keys); i++)
        g_assert_cmpuint(timeline_find_key(chart, keys[i]), ==, i);
    g_assert_cmpuint(timeline_find_key(chart, "pour-3"), ==, G_MAXUINT);
    g_assert_cmpuint(timeline_find_key(chart, NULL), ==, G_MAXUINT);
    sample.tasks[5].key = (char *)"its-own";
    g_assert_cmpuint(timeline_find_key(chart, "its-own"), ==, 5);
    g_assert_cmpuint(timeline_find_key(chart, "pour-1"), ==, G_MAXUINT);
}

static void
test_steps(void)
{
    UnitSet units = unit_set_default();
    SampleSession sample;
    sample_session_fill(&sample);
    sample.session.boxes = 3; // the last of them is never used
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    g_assert_cmpuint(chart->n_rows, ==, 5);
    guint bar = chart->first_bar[1]; // warm up, the first of the furnace
    g_assert_cmpuint(bar, ==, 0);
    g_assert_cmpuint(timeline_step_along(chart, bar, -1), ==, bar);
    bar = timeline_step_along(chart, bar, 1);
    g_assert_cmpuint(chart->bars[bar].task, ==, 4);
    bar = timeline_step_across(chart, bar, 1); // middle at 142 min; nothing there, a pour is near
    g_assert_cmpuint(chart->bars[bar].task, ==, 5);
    bar = timeline_step_along(chart, bar, G_MAXINT);
    g_assert_cmpuint(chart->bars[bar].task, ==, 10);
    bar = timeline_step_along(chart, bar, -1000);
    g_assert_cmpuint(chart->bars[bar].task, ==, 0);
    bar = timeline_step_across(chart, bar, 1);
    bar = timeline_step_across(chart, bar, 1);
    g_assert_cmpuint(chart->rows[chart->bars[bar].row].index, ==, 1); // flask 2
    g_assert_cmpuint(timeline_step_across(chart, bar, 1), ==, bar);   // and no further
    g_assert_cmpuint(timeline_bar_near(chart, 4, 100), ==, G_MAXUINT);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/timeline-chart/rows", test_rows);
    g_test_add_func("/sketch/timeline-chart/idle", test_idle);
    g_test_add_func("/sketch/timeline-chart/guessed-needs", test_guessed_needs);
    g_test_add_func("/sketch/timeline-chart/told-needs", test_told_needs);
    g_test_add_func("/sketch/timeline-chart/life", test_life);
    g_test_add_func("/sketch/timeline-chart/keys", test_keys);
    g_test_add_func("/sketch/timeline-chart/steps", test_steps);
    return g_test_run();
}
