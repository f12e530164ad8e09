// SPDX-License-Identifier: GPL-3.0-or-later
// Which job on which day, against every order there is in small cases, and against what earliest
// due date first must give.
#include "calendar/batch.h"

#include <string.h>

#include "calendar/search.h"
#include "check.h"

#define MOST_JOBS 5

typedef struct {
    int holds[MOST_JOBS][3]; // flasks a job, by length of day
    const GArray *days;
    gboolean mixed; // shares of the day add up
    int calls, fail_at;
} Shop;

static int
kind_of_day(const Shop *shop, guint day)
{
    const CalendarDay *d = &g_array_index(shop->days, CalendarDay, day);
    return (d->to - d->from) / 60 % 3;
}

static gboolean
hold(gpointer data, guint day, const int *beside, guint n, guint job, int left, int *most,
     Progress *progress, GError **error)
{
    Shop *shop = data;
    int kind = kind_of_day(shop, day);
    double used = 0;
    if (++shop->calls == shop->fail_at)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL, "broken", NULL);
    for (guint j = 0; j < n; j++)
        if (beside[j] > 0)
            used += shop->mixed ? (double)beside[j] / shop->holds[j][kind] : 1;
    int rest = (int)floor((1 - used) * shop->holds[job][kind] + 1e-9);
    *most = MAX(0, MIN(left, rest));
    return TRUE;
}

static GArray *
make_days(GRand *rand, guint n, gboolean alike)
{
    GArray *days = g_array_new(FALSE, FALSE, sizeof(CalendarDay));
    guint32 day = 739001;
    for (guint i = 0; i < n; i++) {
        day += (guint32)g_rand_int_range(rand, 1, 9);
        CalendarDay d = {day, 540, 540 + 60 * (alike ? 0 : g_rand_int_range(rand, 0, 3))};
        g_array_append_val(days, d);
    }
    return days;
}

// The smallest greatest lateness of all orders: on each day each job in turn that can pour.
static int
least_latest(const Shop *shop, const CalendarJob *jobs, guint n, guint day, int *left, int latest)
{
    gboolean any = FALSE, poured = FALSE;
    int best = G_MAXINT;
    for (guint j = 0; j < n; j++)
        any = any || left[j] > 0;
    if (!any || day >= shop->days->len)
        return any ? G_MAXINT : latest;
    for (guint j = 0; j < n; j++) {
        int more = MIN(left[j], shop->holds[j][kind_of_day(shop, day)]), late = latest;
        if (more == 0)
            continue;
        poured = TRUE;
        left[j] -= more;
        if (left[j] == 0 && jobs[j].due)
            late = MAX(
                late, (int)((gint64)g_array_index(shop->days, CalendarDay, day).day - jobs[j].due));
        best = MIN(best, least_latest(shop, jobs, n, day + 1, left, late));
        left[j] += more;
    }
    return poured ? best : least_latest(shop, jobs, n, day + 1, left, latest);
}

// Every flask has a day, no session pours more than it holds, and what is said of the jobs is so.
static void
check_batch(const Shop *shop, const CalendarBatch *batch, const CalendarJob *jobs, guint n)
{
    int poured[MOST_JOBS] = {0};
    guint32 done[MOST_JOBS] = {0};
    int latest = G_MININT;
    guint before = 0;
    for (guint i = 0; i < batch->sessions->len; i++) {
        const CalendarSession *session = &g_array_index(batch->sessions, CalendarSession, i);
        double used = 0;
        g_assert_true(i == 0 || session->day > before);
        before = session->day;
        g_assert_cmpuint(session->pours->len, >=, 1);
        if (!shop->mixed)
            g_assert_cmpuint(session->pours->len, ==, 1);
        for (guint k = 0; k < session->pours->len; k++) {
            const CalendarPour *pour = &g_array_index(session->pours, CalendarPour, k);
            g_assert_cmpint(pour->flasks, >, 0);
            poured[pour->job] += pour->flasks;
            used += (double)pour->flasks / shop->holds[pour->job][kind_of_day(shop, session->day)];
            if (poured[pour->job] == jobs[pour->job].flasks)
                done[pour->job] = g_array_index(shop->days, CalendarDay, session->day).day;
        }
        g_assert_cmpfloat(used, <=, 1 + 1e-9);
    }
    g_assert_true(batch->whole);
    for (guint j = 0; j < n; j++) {
        g_assert_cmpint(poured[j], ==, jobs[j].flasks);
        g_assert_cmpuint(batch->done[j], ==, done[j]);
        if (jobs[j].flasks > 0)
            g_assert_cmpuint(batch->alone[j], <=, batch->done[j]);
        int late = jobs[j].due && done[j] ? (int)((gint64)done[j] - jobs[j].due) : G_MININT;
        g_assert_cmpint(batch->late[j], ==, late);
        latest = MAX(latest, late);
    }
    g_assert_cmpint(batch->latest, ==, latest);
}

static void
make_case(GRand *rand, Shop *shop, CalendarJob *jobs, guint n, gboolean alike)
{
    for (guint j = 0; j < n; j++) {
        jobs[j].flasks = g_rand_int_range(rand, 0, 6);
        jobs[j].due = g_rand_int_range(rand, 0, 4) == 0
                          ? 0
                          : 739001 + (guint32)g_rand_int_range(rand, 0, 40);
        for (int kind = 0; kind < 3; kind++)
            shop->holds[j][kind] = g_rand_int_range(rand, alike || kind == 2, 5);
        shop->holds[j][0] += alike ? 0 : 1; // on some day it can be poured
    }
}

static void
test_orders(gconstpointer data)
{
    gboolean alike = GPOINTER_TO_INT(data);
    g_autoptr(GRand) rand = g_rand_new_with_seed(alike ? 41 : 97);
    guint searched = 0, late = 0;
    for (guint round = 0; round < 600; round++) {
        guint n = (guint)g_rand_int_range(rand, 1, MOST_JOBS);
        CalendarJob jobs[MOST_JOBS];
        Shop shop = {0};
        make_case(rand, &shop, jobs, n, alike);
        g_autoptr(GArray) days = make_days(rand, 60, alike);
        shop.days = days;
        g_autoptr(GError) error = NULL;
        g_autoptr(CalendarBatch) batch = calendar_batch_make(
            jobs, n, days, alike ? CALENDAR_ALIKE : CALENDAR_SINGLE, hold, &shop, NULL, &error);
        g_assert_no_error(error);
        check_batch(&shop, batch, jobs, n);
        int left[MOST_JOBS];
        for (guint j = 0; j < n; j++)
            left[j] = jobs[j].flasks;
        // Only small cases can be tried in every order.
        int all = 0;
        for (guint j = 0; j < n; j++)
            all += left[j];
        if (all > 9)
            continue;
        int least = least_latest(&shop, jobs, n, 0, left, G_MININT);
        if (batch->latest > 0 || alike)
            g_assert_cmpint(batch->latest, ==, least);
        else
            g_assert_cmpint(least, <=, batch->latest);
        searched += batch->proof == CALENDAR_SEARCHED;
        late += batch->latest > 0;
    }
    g_test_message("%u of 600 late, %u searched", late, searched);
    g_assert_cmpuint(late, >, 20);
    if (!alike)
        g_assert_cmpuint(searched, >, 5);
}

// Sharing a session never makes the batch longer, and a plan said to be at its bound is.
static void
test_mixed(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(7);
    for (guint round = 0; round < 200; round++) {
        guint n = (guint)g_rand_int_range(rand, 1, MOST_JOBS + 1);
        CalendarJob jobs[MOST_JOBS];
        Shop shop = {.mixed = TRUE};
        make_case(rand, &shop, jobs, n, TRUE);
        for (guint j = 0; j < n; j++)
            shop.holds[j][0] = 4;
        g_autoptr(GArray) days = make_days(rand, 60, TRUE);
        shop.days = days;
        g_autoptr(CalendarBatch) mixed = calendar_batch_make(jobs, n, days, CALENDAR_MIXED, hold,
                                                             &shop, NULL, NULL);
        check_batch(&shop, mixed, jobs, n);
        int all = 0, least = G_MININT;
        for (guint j = 0; j < n; j++) {
            all += jobs[j].flasks;
            if (jobs[j].due && jobs[j].flasks)
                least = MAX(least, (int)((gint64)mixed->alone[j] - jobs[j].due));
        }
        g_assert_cmpuint(mixed->sessions->len, ==, (all + 3) / 4); // every session but one is full
        if (mixed->proof == CALENDAR_BOUND)
            g_assert_cmpint(mixed->latest, ==, least);
        shop.mixed = FALSE;
        g_autoptr(CalendarBatch) single = calendar_batch_make(jobs, n, days, CALENDAR_ALIKE, hold,
                                                              &shop, NULL, NULL);
        g_assert_cmpint(mixed->latest, <=, single->latest);
    }
}

// By hand: 7, 3 and 2 flasks, 3 a day, due on the third, first and no day.
static void
test_by_hand(void)
{
    CalendarJob jobs[] = {{7, 739003}, {3, 739001}, {2, 0}};
    Shop shop = {.holds = {{3}, {3}, {3}}};
    g_autoptr(GArray) days = g_array_new(FALSE, FALSE, sizeof(CalendarDay));
    for (guint32 i = 0; i < 9; i++) {
        CalendarDay day = {739001 + i, 540, 540};
        g_array_append_val(days, day);
    }
    shop.days = days;
    g_autoptr(CalendarBatch) batch = calendar_batch_make(jobs, 3, days, CALENDAR_ALIKE, hold, &shop,
                                                         NULL, NULL);
    check_batch(&shop, batch, jobs, 3);
    g_assert_cmpuint(batch->sessions->len, ==, 5);
    g_assert_cmpint(batch->late[0], ==, 1);
    g_assert_cmpint(batch->late[1], ==, 0);
    g_assert_cmpint(batch->late[2], ==, G_MININT);
    g_assert_cmpuint(batch->alone[0], ==, 739003);
    g_assert_cmpuint(batch->done[2], ==, 739005);
    g_assert_cmpint(batch->proof, ==, CALENDAR_THEOREM);
}

static void
test_ends(void)
{
    CalendarJob jobs[] = {{7, 739003}, {3, 739001}};
    Shop shop = {.holds = {{3, 3, 3}, {0, 0, 0}}};
    g_autoptr(GRand) rand = g_rand_new_with_seed(3);
    g_autoptr(GArray) days = make_days(rand, 20, TRUE);
    shop.days = days;
    // A job no day holds.
    g_autoptr(CalendarBatch) never = calendar_batch_make(jobs, 2, days, CALENDAR_SINGLE, hold,
                                                         &shop, NULL, NULL);
    g_assert_false(never->whole);
    g_assert_cmpuint(never->done[1], ==, 0);
    g_assert_cmpuint(never->alone[1], ==, 0);
    g_assert_cmpint(never->late[1], ==, G_MININT);
    // No job, no day.
    g_autoptr(CalendarBatch) none = calendar_batch_make(NULL, 0, days, CALENDAR_MIXED, hold, &shop,
                                                        NULL, NULL);
    g_assert_true(none->whole);
    g_assert_cmpuint(none->sessions->len, ==, 0);
    g_array_set_size(days, 0);
    g_autoptr(CalendarBatch) dayless = calendar_batch_make(jobs, 2, days, CALENDAR_SINGLE, hold,
                                                           &shop, NULL, NULL);
    g_assert_false(dayless->whole);
}

// Every question that fails ends it with that error; a stop is kept.
static void
test_broken(void)
{
    CalendarJob jobs[] = {{7, 739003}, {5, 739001}, {6, 739002}};
    g_autoptr(GRand) rand = g_rand_new_with_seed(5);
    g_autoptr(GArray) days = make_days(rand, 30, FALSE);
    int calls = 0;
    for (int fail = 0; fail == 0 || fail <= calls; fail++) {
        Shop shop = {.holds = {{3, 1, 2}, {1, 3, 2}, {2, 2, 1}}, .days = days, .fail_at = fail};
        g_autoptr(GError) error = NULL;
        g_autoptr(CalendarBatch) batch = calendar_batch_make(jobs, 3, days, CALENDAR_SINGLE, hold,
                                                             &shop, NULL, &error);
        if (fail == 0) {
            g_assert_nonnull(batch);
            calls = shop.calls;
            continue;
        }
        g_assert_null(batch);
        check_error(error, BASE_ERROR_VALUE, "broken");
    }
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    Shop shop = {.holds = {{3, 1, 2}, {1, 3, 2}, {2, 2, 1}}, .days = days};
    g_autoptr(GError) error = NULL;
    g_assert_null(
        calendar_batch_make(jobs, 3, days, CALENDAR_SINGLE, hold, &shop, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_data_func("/calendar/batch/alike", GINT_TO_POINTER(TRUE), test_orders);
    g_test_add_data_func("/calendar/batch/single", GINT_TO_POINTER(FALSE), test_orders);
    g_test_add_func("/calendar/batch/mixed", test_mixed);
    g_test_add_func("/calendar/batch/by-hand", test_by_hand);
    g_test_add_func("/calendar/batch/ends", test_ends);
    g_test_add_func("/calendar/batch/broken", test_broken);
    return g_test_run();
}
