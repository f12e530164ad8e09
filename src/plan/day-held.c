// SPDX-License-Identifier: GPL-3.0-or-later
// What holds a day back that pours certain moulds: the moulds it has are kept, and one thing after
// the other there is a little more of, it is seen how many moulds of one more job go in.
#include <string.h>

#include "plan/day-private.h"

// The moulds of each kind the day pours.
static void
count_poured(const Day *day, const int *moulds, int counts[SESSION_MOST_KINDS])
{
    memset(counts, 0, sizeof(int) * SESSION_MOST_KINDS);
    for (guint j = 0; j < day->n_jobs; j++)
        if (day->jobs[j].kind >= 0)
            counts[day->jobs[j].kind] = moulds[j];
}

static gboolean
keeps(const SessionFloor *floor, const SessionMost *most, const int *counts)
{
    for (int k = 0; k < floor->n_kinds; k++)
        if (most->counts[k] < counts[k])
            return FALSE;
    return TRUE;
}

// Asks for all of them at once. A floor that would rather pour those than what the day has is asked
// for fewer, by halves.
static gboolean
count_more(const SessionFloor *floor, const int *counts, int kind, int more, int *gain,
           Progress *progress, GError **error)
{
    SessionFloor asked = *floor;
    asked.n_pins = 0; // pins move work; they do not drop moulds
    *gain = 0;
    while (more > 0) {
        SessionMost most;
        asked.kinds[kind].wanted = counts[kind] + more;
        if (!session_floor_most(&asked, &most, progress, error))
            return FALSE;
        if (keeps(floor, &most, counts)) {
            *gain = most.counts[kind] - counts[kind];
            return TRUE;
        }
        more /= 2;
    }
    return TRUE;
}

static gboolean
try_each(const Day *day, const int *counts, int kind, int more, PlanDayHeld *held,
         Progress *progress, GError **error)
{
    *held = (PlanDayHeld){TRUE, SESSION_MORE_COUNT, 0};
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        SessionFloor richer = session_floor_richer(&day->floor, counts, i);
        int gain = 0;
        if (!session_more_is_asked(&day->floor, i))
            continue;
        if (!count_more(&richer, counts, kind, more, &gain, progress, error))
            return FALSE;
        if (gain > held->gain)
            *held = (PlanDayHeld){TRUE, i, gain};
    }
    if (held->which == SESSION_MORE_COUNT)
        held->which = session_light_is_short(&day->floor) ? SESSION_MORE_LIGHT : SESSION_MORE_HOUR;
    return TRUE;
}

gboolean
plan_day_find_held(const Plan *const *plans, guint n, const PlanDayWish *wish, guint job, int more,
                   const Tables *tables, PlanDayHeld *held, Progress *progress, GError **error)
{
    g_return_val_if_fail(plans && wish && wish->moulds && job < n && tables && held, FALSE);
    g_autofree int *moulds = g_memdup2(wish->moulds, sizeof(int) * n);
    moulds[job] += more;
    Day day = {.tables = tables, .wish = *wish, .n_jobs = n};
    day.wish.moulds = moulds;
    int counts[SESSION_MOST_KINDS];
    gboolean ok = day_gather(&day, plans, progress, error) && day_pair(&day, progress, error) &&
                  session_floor_check_shop(&day.floor, error);
    PlanDayHeld found = {FALSE, SESSION_MORE_COUNT, 0};
    if (ok && day.jobs[job].kind >= 0) {
        count_poured(&day, wish->moulds, counts);
        ok = try_each(&day, counts, day.jobs[job].kind, more, &found, progress, error);
    }
    day_clear(&day);
    if (ok)
        *held = found;
    return ok;
}
