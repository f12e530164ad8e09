// SPDX-License-Identifier: GPL-3.0-or-later
// Fills the days job by job, then looks whether another order is less late.
#include "calendar/batch.h"

#include <string.h>

#include "calendar/search.h"

// With so many jobs or fewer, where sessions are mixed, every order of preference is tried.
#define MOST_ORDERED 4

typedef struct {
    const CalendarJob *jobs;
    guint n;
    const GArray *days;
    CalendarMost most;
    gpointer data;
    Progress *progress;
    GError **error;
} Filling;

static void
clear_session(gpointer data)
{
    g_array_unref(((CalendarSession *)data)->pours);
}

static CalendarBatch *
new_batch(guint n)
{
    CalendarBatch *batch = g_new0(CalendarBatch, 1);
    batch->sessions = g_array_new(FALSE, TRUE, sizeof(CalendarSession));
    g_array_set_clear_func(batch->sessions, clear_session);
    batch->n_jobs = n;
    batch->done = g_new0(guint32, n + 1);
    batch->alone = g_new0(guint32, n + 1);
    batch->late = g_new0(int, n + 1);
    batch->latest = G_MININT;
    return batch;
}

void
calendar_batch_free(CalendarBatch *batch)
{
    if (!batch)
        return;
    g_array_unref(batch->sessions);
    g_free(batch->done);
    g_free(batch->alone);
    g_free(batch->late);
    g_free(batch);
}

static int
compare_due(gconstpointer a, gconstpointer b, gpointer data)
{
    const CalendarJob *jobs = data;
    int left = *(const int *)a, right = *(const int *)b;
    // Jobs without a due day come last: their day wraps to the greatest there is.
    guint32 due_left = jobs[left].due - 1, due_right = jobs[right].due - 1;
    if (due_left != due_right)
        return due_left < due_right ? -1 : 1;
    return left - right;
}

static int *
order_by_due(const CalendarJob *jobs, guint n)
{
    int *order = g_new0(int, n + 1);
    for (guint j = 0; j < n; j++)
        order[j] = (int)j;
    g_qsort_with_data(order, (int)n, sizeof(int), compare_due, (gpointer)jobs);
    return order;
}

// Puts as many flasks of a job into the session as it holds beside what it has.
static gboolean
add_most(const Filling *filling, guint day, int *flasks, int job, int left)
{
    int most = 0;
    if (!progress_check(filling->progress, filling->error) ||
        !filling->most(filling->data, day, flasks, filling->n, (guint)job, left, &most,
                       filling->progress, filling->error))
        return FALSE;
    flasks[job] = CLAMP(most, 0, left);
    return TRUE;
}

static void
add_session(const Filling *filling, guint day, const int *flasks, int *left, CalendarBatch *batch)
{
    CalendarSession session = {day, g_array_new(FALSE, FALSE, sizeof(CalendarPour))};
    for (guint j = 0; j < filling->n; j++) {
        CalendarPour pour = {(int)j, flasks[j]};
        if (flasks[j] == 0)
            continue;
        g_array_append_val(session.pours, pour);
        left[j] -= flasks[j];
        if (left[j] == 0)
            batch->done[j] = g_array_index(filling->days, CalendarDay, day).day;
    }
    if (session.pours->len > 0)
        g_array_append_val(batch->sessions, session);
    else
        clear_session(&session);
}

static void
judge(const Filling *filling, const int *left, CalendarBatch *batch)
{
    batch->whole = TRUE;
    batch->latest = G_MININT;
    for (guint j = 0; j < filling->n; j++) {
        batch->whole = batch->whole && left[j] == 0;
        batch->late[j] = G_MININT;
        if (filling->jobs[j].due == 0 || batch->done[j] == 0)
            continue;
        batch->late[j] = (int)((gint64)batch->done[j] - filling->jobs[j].due);
        batch->latest = MAX(batch->latest, batch->late[j]);
    }
}

// Fills the days in the order of `order` (n_order jobs); a day's own job in `takes` (may be NULL)
// comes before them.
static CalendarBatch *
fill_days(const Filling *filling, const int *order, guint n_order, const int *takes)
{
    g_autoptr(CalendarBatch) batch = new_batch(filling->n);
    g_autofree int *left = g_new0(int, filling->n + 1), *flasks = g_new0(int, filling->n + 1);
    gint64 all = 0;
    for (guint i = 0; i < n_order; i++)
        all += left[order[i]] = MAX(0, filling->jobs[order[i]].flasks);
    for (guint day = 0; day < filling->days->len && all > 0; day++) {
        memset(flasks, 0, sizeof(int) * filling->n);
        if (takes && takes[day] >= 0 &&
            !add_most(filling, day, flasks, takes[day], left[takes[day]]))
            return NULL;
        for (guint i = 0; i < n_order; i++)
            if (left[order[i]] > 0 && flasks[order[i]] == 0 &&
                !add_most(filling, day, flasks, order[i], left[order[i]]))
                return NULL;
        for (guint j = 0; j < filling->n; j++)
            all -= flasks[j];
        add_session(filling, day, flasks, left, batch);
    }
    judge(filling, left, batch);
    return g_steal_pointer(&batch);
}

static gboolean
is_better(const CalendarBatch *a, const CalendarBatch *b)
{
    if (a->whole != b->whole)
        return a->whole;
    if (a->latest != b->latest)
        return a->latest < b->latest;
    return a->sessions->len < b->sessions->len;
}

static void
keep_better(CalendarBatch **best, CalendarBatch *other)
{
    if (is_better(other, *best)) {
        CalendarBatch *worse = *best;
        *best = other;
        other = worse;
    }
    calendar_batch_free(other);
}

// Tries every order of order[from ..].
static gboolean
try_orders(const Filling *filling, int *order, guint from, CalendarBatch **best)
{
    if (from + 1 >= filling->n) {
        CalendarBatch *other = fill_days(filling, order, filling->n, NULL);
        if (other)
            keep_better(best, other);
        return other != NULL;
    }
    for (guint i = from; i < filling->n; i++) {
        int swap = order[from];
        order[from] = order[i];
        order[i] = swap;
        if (!try_orders(filling, order, from + 1, best))
            return FALSE;
        order[i] = order[from];
        order[from] = swap;
    }
    return TRUE;
}

// What every day holds of every job alone. Free; NULL when stopped.
static int *
measure_days(const Filling *filling)
{
    g_autofree int *holds = g_new0(int, filling->days->len * filling->n + 1);
    g_autofree int *flasks = g_new0(int, filling->n + 1);
    for (guint day = 0; day < filling->days->len; day++)
        for (guint j = 0; j < filling->n; j++) {
            memset(flasks, 0, sizeof(int) * filling->n);
            if (!add_most(filling, day, flasks, (int)j, MAX(0, filling->jobs[j].flasks)))
                return NULL;
            holds[day * filling->n + j] = flasks[j];
        }
    return g_steal_pointer(&holds);
}

// The smallest lateness there is between `least`, which no plan beats, and that of the best so far.
static gboolean
search_orders(const Filling *filling, const int *order, int least, CalendarBatch **best)
{
    g_autofree int *holds = measure_days(filling);
    g_autofree int *takes = g_new0(int, filling->days->len + 1);
    if (!holds)
        return FALSE;
    CalendarTable table = {filling->jobs, filling->n, (const CalendarDay *)filling->days->data,
                           filling->days->len, holds};
    int low = least, high = (*best)->latest; // high can be had, low - 1 cannot
    gboolean sure = TRUE, found = FALSE;
    while (low < high) {
        int late = low + (high - low) / 2;
        SearchEnd end = calendar_search(&table, late, takes, filling->progress, filling->error);
        if (end == SEARCH_STOPPED)
            return FALSE;
        sure = sure && end != SEARCH_TOO_BIG;
        found = found || end == SEARCH_FOUND;
        if (end == SEARCH_FOUND)
            high = late;
        else
            low = late + 1;
    }
    if (found) {
        CalendarBatch *other = fill_days(filling, order, filling->n, takes);
        if (!other)
            return FALSE;
        keep_better(best, other);
    }
    (*best)->proof = sure ? CALENDAR_SEARCHED : CALENDAR_UNPROVED;
    return TRUE;
}

// Each job poured before all others: no plan ends it sooner. *least gets the greatest lateness that
// comes of it, G_MININT if no job has a due day.
static gboolean
find_alone(const Filling *filling, guint32 *alone, int *least)
{
    *least = G_MININT;
    for (guint j = 0; j < filling->n; j++) {
        int order[] = {(int)j};
        g_autoptr(CalendarBatch) batch = fill_days(filling, order, 1, NULL);
        if (!batch)
            return FALSE;
        alone[j] = batch->done[j];
        if (batch->late[j] != G_MININT)
            *least = MAX(*least, batch->late[j]);
    }
    return TRUE;
}

static gboolean
improve(const Filling *filling, int *order, CalendarSessions kind, int least, CalendarBatch **best)
{
    if (!(*best)->whole)
        return TRUE;
    if (kind == CALENDAR_ALIKE) {
        (*best)->proof = CALENDAR_THEOREM;
        return TRUE;
    }
    if ((*best)->latest == least) {
        (*best)->proof = CALENDAR_BOUND;
        return TRUE;
    }
    if ((*best)->latest <= 0) // every due day is kept
        return TRUE;
    if (kind == CALENDAR_SINGLE)
        return search_orders(filling, order, least, best);
    if (filling->n <= MOST_ORDERED && !try_orders(filling, order, 0, best))
        return FALSE;
    if ((*best)->latest == least)
        (*best)->proof = CALENDAR_BOUND;
    return TRUE;
}

CalendarBatch *
calendar_batch_make(const CalendarJob *jobs, guint n, const GArray *days, CalendarSessions kind,
                    CalendarMost most, gpointer data, Progress *progress, GError **error)
{
    g_return_val_if_fail((jobs || n == 0) && days && most, NULL);
    g_autofree int *order = order_by_due(jobs, n);
    g_autofree guint32 *alone = g_new0(guint32, n + 1);
    Filling filling = {jobs, n, days, most, data, progress, error};
    CalendarBatch *best = fill_days(&filling, order, n, NULL);
    int least;
    if (!best || !find_alone(&filling, alone, &least) ||
        !improve(&filling, order, kind, least, &best)) {
        calendar_batch_free(best);
        return NULL;
    }
    memcpy(best->alone, alone, sizeof(guint32) * n);
    return best;
}
