// SPDX-License-Identifier: GPL-3.0-or-later
// What holds a session back, found by trying rather than by rule of thumb.
#include "session/bottleneck.h"

#include <glib/gi18n-lib.h>
#include <math.h>

void
session_light_extend(double hours, double closing, double *from, double *to)
{
    g_return_if_fail(from && to);
    if (*to < hours - closing)
        *to += 3600.0;
    else
        *from = MAX(*from - 3600.0, 0.0);
}

gboolean
session_light_is_short(const SessionFloor *floor)
{
    g_return_val_if_fail(floor, FALSE);
    return floor->light_to < floor->hours - floor->closing || floor->light_from > floor->set_up;
}

gboolean
session_more_is_asked(const SessionFloor *floor, SessionMore more)
{
    g_return_val_if_fail(floor, FALSE);
    if (more == SESSION_MORE_SAND)
        return isfinite(floor->sand_ready);
    return more != SESSION_MORE_LIGHT || floor->light_from > 0.0 || isfinite(floor->light_to);
}

static SessionShop
make_richer(const SessionShop *shop, SessionMore more)
{
    SessionShop richer = *shop;
    switch (more) {
    case SESSION_MORE_FLASK:
        richer.boxes++;
        break;
    case SESSION_MORE_SAND:
        richer.sand_ready += shop->sand;
        break;
    case SESSION_MORE_HOUR:
        richer.hours += 3600.0;
        break;
    case SESSION_MORE_LIGHT:
        richer.light_to = shop->light_to > 0.0 ? shop->light_to : INFINITY;
        session_light_extend(shop->hours, shop->closing, &richer.light_from, &richer.light_to);
        break;
    case SESSION_MORE_CRUCIBLE:
        // More metal takes longer to melt in the same furnace.
        richer.heat *= (shop->flasks_per_load + 1.0) / shop->flasks_per_load;
        richer.flasks_per_load++;
        break;
    case SESSION_MORE_PERSON:
        richer.people++;
        break;
    case SESSION_MORE_FURNACE:
        richer.heat *= 0.5;
        break;
    case SESSION_MORE_COUNT:
        break;
    }
    return richer;
}

static gboolean
measure_sooner(const SessionShop *shop, const SessionShop *richer, int flasks, double *sooner,
               Progress *progress, GError **error)
{
    int asked = MAX(flasks, 1);
    g_autoptr(SessionPlan) now = session_plan_of(shop, asked, FALSE, progress, error);
    g_autoptr(SessionPlan) then = now ? session_plan_of(richer, asked, FALSE, progress, error)
                                      : NULL;
    if (!then)
        return FALSE;
    *sooner = MAX(now->last_pour - then->last_pour, 0.0);
    return TRUE;
}

static SessionMore
choose(const SessionBottleneck *found, gboolean dark, int flasks)
{
    SessionMore best = SESSION_MORE_FLASK;
    for (SessionMore i = 1; i < SESSION_MORE_COUNT; i++)
        if (found->gain[i] > found->gain[best])
            best = i;
    if (found->gain[best] > 0)
        return best;
    // Nothing alone brings another flask: then what saves most time, else the hours or the light.
    best = dark ? SESSION_MORE_LIGHT : SESSION_MORE_HOUR;
    if (dark && flasks == 0) // no time that is saved would do
        return best;
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++)
        if (found->sooner[i] > found->sooner[best] + 60.0)
            best = i;
    return best;
}

gboolean
session_bottleneck_find(const SessionShop *shop, int flasks, SessionBottleneck *found,
                        Progress *progress, GError **error)
{
    g_return_val_if_fail(shop && found, FALSE);
    SessionBottleneck result = {{0}};
    SessionFloor floor = session_shop_floor(shop);
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        result.asked[i] = session_more_is_asked(&floor, i);
        if (!result.asked[i])
            continue;
        SessionShop richer = make_richer(shop, i);
        int most = 0;
        if (!session_plan_most(&richer, &most, progress, error))
            return FALSE;
        result.gain[i] = MAX(most - flasks, 0);
        if (i != SESSION_MORE_HOUR &&
            !measure_sooner(shop, &richer, flasks, &result.sooner[i], progress, error))
            return FALSE;
    }
    result.which = choose(&result, session_light_is_short(&floor), flasks);
    *found = result;
    return TRUE;
}

const char *
session_bottleneck_word(SessionMore which)
{
    static const char *const words[] = {"flasks",   "sand",   "hours",  "daylight",
                                        "crucible", "person", "furnace"};
    g_return_val_if_fail(which < SESSION_MORE_COUNT, "");
    return words[which];
}

const char *
session_bottleneck_held(const char *word)
{
    static const char *const words[] = {
        N_("held back by the flasks"),   N_("held back by the sand"),
        N_("held back by the hours"),    N_("held back by daylight"),
        N_("held back by the crucible"), N_("held back by the person"),
        N_("held back by the furnace")};
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++)
        if (g_strcmp0(word, session_bottleneck_word(i)) == 0)
            return _(words[i]);
    return NULL;
}

const char *
session_bottleneck_more(SessionMore which)
{
    static const char *const words[] = {N_("One more flask"),
                                        N_("Sand for one more flask"),
                                        N_("One more hour"),
                                        N_("One more hour of light"),
                                        N_("A crucible that fills one more flask a load"),
                                        N_("One more pair of hands"),
                                        N_("A furnace that melts in half the time")};
    g_return_val_if_fail(which < SESSION_MORE_COUNT, "");
    return _(words[which]);
}
