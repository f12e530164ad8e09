// SPDX-License-Identifier: GPL-3.0-or-later
// The best session: the fixed set of ways to lay one out, the choice among them, and the search for
// the most flasks the hours hold.
#include "session/session.h"

#include <glib/gi18n-lib.h>
#include <math.h>

// Sizes of load tried below the largest, and the flasks above which only the largest is: large
// sessions have room to spare and would take long.
#define MOST_SIZES 8
#define MANY_FLASKS 60
// One more flask can now and then fit where one fewer did not, because ways interlock differently.
#define STRAY 3

static guint
count_ways(const SessionShop *shop, int flasks)
{
    int sizes = MIN(MIN(shop->flasks_per_load, shop->boxes), flasks);
    return flasks > MANY_FLASKS ? 9 : (guint)MIN(sizes, MOST_SIZES) * 18;
}

static SessionWay
get_way(const SessionShop *shop, int flasks, guint index)
{
    int largest = MIN(MIN(shop->flasks_per_load, shop->boxes), flasks);
    return (SessionWay){.size = largest - (int)(index / 18),
                        .small_first = index / 9 % 2,
                        .patience = 2 - (int)(index / 3 % 3),
                        .foresight = index % 3};
}

// TRUE if `a` is the better session; ties keep the earlier way.
static gboolean
is_better(const SessionPlan *a, const SessionPlan *b)
{
    if (a->within != b->within)
        return a->within;
    if (!a->within)
        return a->length < b->length;
    if (a->loads != b->loads)
        return a->loads < b->loads;
    // Held metal by whole minutes, so that seconds do not decide over an hour of the day.
    double held_a = floor(a->held / 60.0), held_b = floor(b->held / 60.0);
    if (held_a != held_b)
        return held_a < held_b;
    if (a->last_pour != b->last_pour)
        return a->last_pour < b->last_pour;
    return a->length < b->length;
}

static char *
make_label(const SessionTask *task)
{
    switch (task->kind) {
    case TASK_SET_UP:
        return g_strdup(_("Set up"));
    case TASK_WARM_UP:
        return g_strdup(_("Warm up the furnace"));
    case TASK_RAM:
        return g_strdup_printf(_("Ram mould %d"), task->flask + 1);
    case TASK_RAM_DRAG:
        return g_strdup_printf(_("Ram drag %d"), task->flask + 1);
    case TASK_RAM_COPE:
        return g_strdup_printf(_("Ram cope %d"), task->flask + 1);
    case TASK_DRAW:
        return g_strdup_printf(_("Draw patterns %d"), task->flask + 1);
    case TASK_SHUT:
        return g_strdup_printf(_("Close mould %d"), task->flask + 1);
    case TASK_SKIM:
        return g_strdup_printf(_("Skim load %d"), task->load + 1);
    case TASK_CHARGE:
        return g_strdup_printf(_("Charge load %d"), task->load + 1);
    case TASK_MELT:
        return g_strdup_printf(_("Melt load %d"), task->load + 1);
    case TASK_POUR:
        return g_strdup_printf(_("Pour mould %d"), task->flask + 1);
    case TASK_COOL:
        return g_strdup_printf(_("Mould %d cools"), task->flask + 1);
    case TASK_SHAKE_OUT:
        return g_strdup_printf(_("Shake out mould %d"), task->flask + 1);
    case TASK_CLOSE:
        return g_strdup(_("Close"));
    }
    return g_strdup("");
}

SessionPlan *
session_plan_of(const SessionShop *shop, int flasks, gboolean labels, Progress *progress,
                GError **error)
{
    g_return_val_if_fail(session_shop_is_usable(shop) && flasks > 0, NULL);
    g_autoptr(SessionPlan) best = NULL;
    guint n_ways = count_ways(shop, flasks);
    for (guint i = 0; i < n_ways; i++) {
        if (!progress_check(progress, error))
            return NULL;
        SessionWay way = get_way(shop, flasks, i);
        g_autoptr(SessionPlan) session = session_schedule_lay(shop, flasks, &way, FALSE);
        if (session && (!best || is_better(session, best))) {
            g_clear_pointer(&best, session_plan_free);
            best = g_steal_pointer(&session);
        }
    }
    for (guint i = 0; labels && i < best->tasks->len; i++) {
        SessionTask *task = &g_array_index(best->tasks, SessionTask, i);
        task->label = make_label(task);
    }
    return g_steal_pointer(&best);
}

// -1 when stopped.
static int
does_fit(const SessionShop *shop, int flasks, Progress *progress, GError **error)
{
    guint n_ways = count_ways(shop, flasks);
    for (guint i = 0; i < n_ways; i++) {
        if (!progress_check(progress, error))
            return -1;
        SessionWay way = get_way(shop, flasks, i);
        g_autoptr(SessionPlan) session = session_schedule_lay(shop, flasks, &way, TRUE);
        if (session)
            return 1;
    }
    return 0;
}

int
session_plan_bound(const SessionShop *shop)
{
    g_return_val_if_fail(session_shop_is_usable(shop), 0);
    double open = shop->hours - shop->closing, load = shop->flasks_per_load;
    double most = SESSION_MOST_FLASKS;
    double per_load = (shop->charge + shop->skim) / load;
    // Furnace: after setting up and warming, each flask takes its share of a load and its pour.
    double furnace = open - shop->set_up - shop->warm_up;
    most = MIN(most, furnace / (shop->heat / load + per_load + shop->pour));
    // Hands: all but one box's worth of flasks are shaken out within the session.
    double hands = shop->people * shop->hours - shop->set_up - shop->closing;
    double work = shop->ram + shop->pour + per_load;
    most = MIN(most, MAX(hands / work, 0.0));
    double with_shaking = (hands + shop->boxes * shop->shake_out) / (work + shop->shake_out);
    most = MIN(most, with_shaking);
    // Flasks: the last one of each box needs no cooling.
    double turn = shop->ram + shop->pour + shop->cool + shop->shake_out;
    most = MIN(most, shop->boxes * floor((open + shop->cool + shop->shake_out) / turn + 1e-9));
    return isnan(most) || most < 0.0 ? 0 : (int)floor(most + 1e-9);
}

gboolean
session_plan_most(const SessionShop *shop, int *flasks, Progress *progress, GError **error)
{
    g_return_val_if_fail(session_shop_is_usable(shop) && flasks, FALSE);
    int bound = session_plan_bound(shop), low = 0, high = bound + 1;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        int fits = does_fit(shop, middle, progress, error);
        if (fits < 0)
            return FALSE;
        if (fits)
            low = middle;
        else
            high = middle;
    }
    for (int stray = low + 2; stray <= MIN(bound, low + STRAY); stray++) {
        int fits = does_fit(shop, stray, progress, error);
        if (fits < 0)
            return FALSE;
        if (fits) {
            low = stray;
            break;
        }
    }
    *flasks = low;
    return TRUE;
}
