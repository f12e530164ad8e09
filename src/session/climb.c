// SPDX-License-Identifier: GPL-3.0-or-later
// Climbing by chance, the same chance every time: where boxes of several kinds are short, which
// load comes when decides how long they stand rammed and wait, and no rule of order knows that.
#include "session/climb.h"

// Steps times moulds, so that small days, which lie close to what can be, are tried longer.
#define WORK 24000
#define LEAST_STEPS 150

void
session_near_clear(SessionNear *near)
{
    g_clear_pointer(&near->loads, g_array_unref);
}

void
session_near_keep(SessionNear *near, const SessionFloor *floor, const SessionPlan *plan,
                  const GArray *loads, const SessionWay *way)
{
    g_return_if_fail(near && floor && plan && loads && way);
    if (plan->length > floor->hours * SESSION_NEAR || plan->longest_held > SESSION_MOST_HELD ||
        (near->loads && plan->length >= near->length))
        return;
    session_near_clear(near);
    *near = (SessionNear){g_array_copy((GArray *)loads), *way, plan->length};
}

// A number below `n` (Marsaglia, Journal of Statistical Software 8 (2003) no. 14: xorshift).
static guint
draw(guint32 *state, guint n)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state % n;
}

static void
move_load(GArray *loads, guint from, guint to)
{
    SessionLoad load = g_array_index(loads, SessionLoad, from);
    g_array_remove_index(loads, from);
    g_array_insert_val(loads, to, load);
}

static SessionPlan *
lay(const SessionFloor *floor, const GArray *loads, const SessionWay *way)
{
    return session_lay(floor, (const SessionLoad *)(gpointer)loads->data, loads->len, way, NULL,
                       SESSION_NEAR);
}

gboolean
session_climb(const SessionFloor *floor, const SessionNear *near, SessionPlan **plan,
              Progress *progress, GError **error)
{
    g_return_val_if_fail(floor && near && near->loads && plan, FALSE);
    g_autoptr(GArray) loads = g_array_copy(near->loads);
    g_autoptr(SessionPlan) best = lay(floor, loads, &near->way);
    SessionWay way = near->way;
    guint32 state = 2463534242u;
    int steps = best && loads->len > 1 ? MAX(WORK / MAX(best->flasks, 1), LEAST_STEPS) : 0;
    for (int step = 0; step < steps && !best->within; step++) {
        if (!progress_check(progress, error))
            return FALSE;
        guint from = draw(&state, loads->len), to = draw(&state, loads->len);
        SessionWay other = step % 4 == 3 ? session_way(draw(&state, SESSION_WAYS)) : way;
        move_load(loads, from, to);
        g_autoptr(SessionPlan) next = lay(floor, loads, &other);
        if (next && (next->within || next->last_pour <= best->last_pour)) {
            SessionPlan *worse = best;
            best = g_steal_pointer(&next);
            session_plan_free(worse);
            way = other;
        } else {
            move_load(loads, to, from);
        }
    }
    if (best && best->within)
        *plan = g_steal_pointer(&best);
    return TRUE;
}
