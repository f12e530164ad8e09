// SPDX-License-Identifier: GPL-3.0-or-later
// Goes into the days one after the other and tries each job, the one due first before the others.
// What has failed from a day on, with the same flasks left, is not tried again; a branch ends when
// some job could not keep its day even if it had all days to come for itself.
#include "calendar/search.h"

#include <string.h>

#define MOST_STEPS 60000
#define STRIDE 256

typedef struct {
    const CalendarTable *table;
    gint64 *last; // deadline a job, Julian; G_MAXINT64 without a due day
    int *left, *takes;
    int *order; // jobs, deadline first
    GHashTable *failed;
    guint steps;
    Progress *progress;
    GError **error;
} Search;

static GBytes *
make_key(const Search *search, guint day)
{
    g_autoptr(GByteArray) key = g_byte_array_new();
    g_byte_array_append(key, (const guint8 *)&day, sizeof day);
    g_byte_array_append(key, (const guint8 *)search->left, sizeof(int) * search->table->n);
    return g_byte_array_free_to_bytes(g_steal_pointer(&key));
}

// Could each job keep its deadline were it alone from `day` on?
static gboolean
may_keep(const Search *search, guint day)
{
    const CalendarTable *table = search->table;
    for (guint j = 0; j < table->n; j++) {
        gint64 left = search->left[j];
        if (search->last[j] == G_MAXINT64)
            continue;
        for (guint d = day; d < table->n_days && left > 0; d++) {
            if (table->days[d].day > search->last[j])
                return FALSE;
            left -= table->holds[d * table->n + j];
        }
        if (left > 0)
            return FALSE;
    }
    return TRUE;
}

static gboolean
is_done(const Search *search)
{
    for (guint j = 0; j < search->table->n; j++)
        if (search->left[j] > 0 && search->last[j] != G_MAXINT64)
            return FALSE;
    return TRUE;
}

static SearchEnd walk(Search *search, guint day);

static SearchEnd
try_jobs(Search *search, guint day)
{
    const CalendarTable *table = search->table;
    gboolean tried = FALSE;
    for (guint i = 0; i < table->n; i++) {
        int j = search->order[i], poured = MIN(search->left[j], table->holds[day * table->n + j]);
        if (poured <= 0)
            continue;
        tried = TRUE;
        search->left[j] -= poured;
        search->takes[day] = j;
        SearchEnd end = walk(search, day + 1);
        search->left[j] += poured;
        if (end != SEARCH_NONE)
            return end;
    }
    search->takes[day] = -1;
    return tried ? SEARCH_NONE : walk(search, day + 1);
}

static SearchEnd
walk(Search *search, guint day)
{
    if (is_done(search))
        return SEARCH_FOUND;
    if (day >= search->table->n_days || !may_keep(search, day))
        return SEARCH_NONE;
    if (++search->steps > MOST_STEPS)
        return SEARCH_TOO_BIG;
    if (search->steps % STRIDE == 0 && !progress_check(search->progress, search->error))
        return SEARCH_STOPPED;
    g_autoptr(GBytes) key = make_key(search, day);
    if (g_hash_table_contains(search->failed, key))
        return SEARCH_NONE;
    SearchEnd end = try_jobs(search, day);
    if (end == SEARCH_NONE)
        g_hash_table_add(search->failed, g_steal_pointer(&key));
    return end;
}

static int
compare_jobs(gconstpointer a, gconstpointer b, gpointer data)
{
    const gint64 *last = data;
    int left = *(const int *)a, right = *(const int *)b;
    if (last[left] != last[right])
        return last[left] < last[right] ? -1 : 1;
    return left - right;
}

SearchEnd
calendar_search(const CalendarTable *table, int late, int *takes, Progress *progress,
                GError **error)
{
    g_return_val_if_fail(table && takes, SEARCH_NONE);
    guint n = table->n;
    g_autofree gint64 *last = g_new0(gint64, n + 1);
    g_autofree int *left = g_new0(int, n + 1), *order = g_new0(int, n + 1);
    g_autofree int *found = g_new0(int, table->n_days + 1);
    g_autoptr(GHashTable) failed = g_hash_table_new_full(g_bytes_hash, g_bytes_equal,
                                                         (GDestroyNotify)g_bytes_unref, NULL);
    for (guint j = 0; j < n; j++) {
        last[j] = table->jobs[j].due ? (gint64)table->jobs[j].due + late : G_MAXINT64;
        left[j] = table->jobs[j].flasks;
        order[j] = (int)j;
    }
    g_qsort_with_data(order, (int)n, sizeof(int), compare_jobs, last);
    for (guint d = 0; d < table->n_days; d++)
        found[d] = -1;
    Search search = {.table = table,
                     .last = last,
                     .left = left,
                     .takes = found,
                     .order = order,
                     .failed = failed,
                     .progress = progress,
                     .error = error};
    SearchEnd end = walk(&search, 0);
    if (end == SEARCH_FOUND)
        memcpy(takes, found, sizeof(int) * table->n_days);
    return end;
}
