// SPDX-License-Identifier: GPL-3.0-or-later
// The search for the moulds worth most that the hours hold: what a bound would pour is taken in as
// far as it fits, then single moulds into what room is left, then, for few, proof by every order.
#include <math.h>
#include <string.h>

#include "session/exact.h"
#include "session/fit.h"

// One more mould can now and then fit where one fewer did not, because ways interlock differently.
#define STRAY 3

// The order in which moulds are taken into a session while there is room.
typedef struct {
    int kinds[SESSION_MOST_FLASKS];
    int n;
} Sequence;

static void
count_first(const Sequence *sequence, int n, int counts[SESSION_MOST_KINDS])
{
    memset(counts, 0, sizeof(int) * SESSION_MOST_KINDS);
    for (int i = 0; i < n; i++)
        counts[sequence->kinds[i]]++;
}

// Load by load, as the bound would pour them, or kind by kind, what is worth most for its work
// first.
static gboolean
make_sequence(const SessionFloor *floor, const SessionBound *bound, gboolean by_load,
              Sequence *sequence, Progress *progress, GError **error)
{
    sequence->n = 0;
    if (by_load) {
        int largest = MAX(session_pack_largest(floor), 1);
        g_autoptr(SessionPacking)
                      packing = session_pack(floor, bound->counts, largest, progress, error);
        if (!packing)
            return FALSE;
        for (guint i = 0; i < packing->loads->len; i++)
            for (int k = 0; k < floor->n_kinds; k++)
                for (int j = 0; j < g_array_index(packing->loads, SessionLoad, i).count[k]; j++)
                    if (sequence->n < SESSION_MOST_FLASKS)
                        sequence->kinds[sequence->n++] = k;
        return TRUE;
    }
    gboolean done[SESSION_MOST_KINDS] = {FALSE};
    for (int turn = 0; turn < floor->n_kinds; turn++) {
        int best = -1;
        double most = -1.0;
        for (int k = 0; k < floor->n_kinds; k++) {
            const SessionMould *mould = &floor->kinds[k];
            double rate = mould->worth / MAX(session_mould_work(mould), 1.0);
            if (!done[k] && rate > most) {
                best = k;
                most = rate;
            }
        }
        done[best] = TRUE;
        for (int j = 0; j < bound->counts[best] && sequence->n < SESSION_MOST_FLASKS; j++)
            sequence->kinds[sequence->n++] = best;
    }
    return TRUE;
}

// The longest beginning of the sequence that fits.
static gboolean
find_longest(const SessionFloor *floor, const Sequence *sequence, int counts[SESSION_MOST_KINDS],
             Progress *progress, GError **error)
{
    int low = 0, high = sequence->n + 1;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        count_first(sequence, middle, counts);
        SessionFit fit = session_floor_fits(floor, counts, progress, error);
        if (fit == SESSION_FIT_STOPPED)
            return FALSE;
        *(fit == SESSION_FIT_YES ? &low : &high) = middle;
    }
    for (int stray = low + 2; stray <= MIN(sequence->n, low + STRAY); stray++) {
        count_first(sequence, stray, counts);
        SessionFit fit = session_floor_fits(floor, counts, progress, error);
        if (fit == SESSION_FIT_STOPPED)
            return FALSE;
        if (fit == SESSION_FIT_YES)
            low = stray;
    }
    count_first(sequence, low, counts);
    return TRUE;
}

// What is worth most first.
static void
order_by_worth(const SessionFloor *floor, int order[SESSION_MOST_KINDS])
{
    for (int i = 0; i < floor->n_kinds; i++) {
        int at = i;
        for (; at > 0 && floor->kinds[order[at - 1]].worth < floor->kinds[i].worth; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

// Moulds of other kinds into what room is left: of each kind as many more as go in.
static gboolean
fill_up(const SessionFloor *floor, int counts[SESSION_MOST_KINDS], Progress *progress,
        GError **error)
{
    int order[SESSION_MOST_KINDS];
    order_by_worth(floor, order);
    for (int turn = 0; turn < floor->n_kinds && floor->n_kinds > 1; turn++) {
        int k = order[turn];
        int room = SESSION_MOST_FLASKS - session_count(floor, counts);
        int low = counts[k], high = MIN(floor->kinds[k].wanted, low + room) + 1;
        // One more first: mostly there is no room for it.
        for (int next = low + 1; next < high; next = low + (high - low) / 2) {
            if (next == low)
                break;
            counts[k] = next;
            SessionFit fit = session_floor_fits(floor, counts, progress, error);
            if (fit == SESSION_FIT_STOPPED)
                return FALSE;
            *(fit == SESSION_FIT_YES ? &low : &high) = next;
        }
        counts[k] = low;
    }
    return TRUE;
}

static double
sum_worth(const SessionFloor *floor, const int *counts)
{
    double worth = 0.0;
    for (int k = 0; k < floor->n_kinds; k++)
        worth += counts[k] * floor->kinds[k].worth;
    return worth;
}

static void
keep_counts(const SessionFloor *floor, const int *counts, SessionMost *most)
{
    double worth = sum_worth(floor, counts);
    if (worth <= most->worth)
        return;
    memcpy(most->counts, counts, sizeof most->counts);
    most->worth = worth;
    most->moulds = session_count(floor, counts);
}

// Exactly, where there are few moulds: whether one more of any kind fits after all. Proved when
// none does and no larger session could make up for it.
static gboolean
try_more(const SessionFloor *floor, SessionMost *most, Progress *progress, GError **error)
{
    gboolean again = TRUE, proved = FALSE;
    while (again) {
        again = FALSE;
        proved = floor->n_kinds == 1;
        for (int k = 0; k < floor->n_kinds && !again; k++) {
            int counts[SESSION_MOST_KINDS];
            memcpy(counts, most->counts, sizeof counts);
            if (++counts[k] > floor->kinds[k].wanted)
                continue;
            SessionExact exact = {0};
            if (most->moulds >= most->bound.moulds || !session_exact_is_small(floor, counts)) {
                proved = FALSE;
                continue;
            }
            if (!session_exact(floor, counts, INFINITY, &exact, progress, error))
                return FALSE;
            again = exact.session && exact.session->within;
            proved = proved && exact.proved;
            session_plan_free(exact.session);
            if (again)
                keep_counts(floor, counts, most);
        }
    }
    most->proved = proved || most->worth >= most->bound.worth - 1e-6 ||
                   (floor->n_kinds == 1 && most->moulds >= most->bound.moulds);
    return TRUE;
}

gboolean
session_floor_most(const SessionFloor *floor, SessionMost *most, Progress *progress, GError **error)
{
    g_return_val_if_fail(floor && most, FALSE);
    SessionMost found = {0};
    if (!session_bound(floor, &found.bound, progress, error))
        return FALSE;
    for (int by_load = floor->n_kinds == 1; by_load < 2; by_load++) {
        Sequence sequence;
        int counts[SESSION_MOST_KINDS] = {0};
        if (found.bound.moulds == 0)
            break;
        if (!make_sequence(floor, &found.bound, by_load, &sequence, progress, error) ||
            !find_longest(floor, &sequence, counts, progress, error) ||
            !fill_up(floor, counts, progress, error))
            return FALSE;
        keep_counts(floor, counts, &found);
    }
    if (!try_more(floor, &found, progress, error))
        return FALSE;
    *most = found;
    return TRUE;
}
