// SPDX-License-Identifier: GPL-3.0-or-later
// What holds a session back, found by trying rather than by rule of thumb.
#include "run/bottleneck.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static RunShop
make_richer(const RunShop *shop, RunMore more)
{
    RunShop richer = *shop;
    switch (more) {
    case RUN_MORE_FLASK:
        richer.boxes++;
        break;
    case RUN_MORE_HOUR:
        richer.hours += 3600.0;
        break;
    case RUN_MORE_CRUCIBLE:
        // More metal takes longer to melt in the same furnace.
        richer.heat *= (shop->flasks_per_load + 1.0) / shop->flasks_per_load;
        richer.flasks_per_load++;
        break;
    case RUN_MORE_PERSON:
        richer.people++;
        break;
    case RUN_MORE_FURNACE:
        richer.heat *= 0.5;
        break;
    case RUN_MORE_COUNT:
        break;
    }
    return richer;
}

static gboolean
measure_sooner(const RunShop *shop, const RunShop *richer, int flasks, double *sooner,
               Progress *progress, GError **error)
{
    int asked = MAX(flasks, 1);
    g_autoptr(RunSession) now = run_session_of(shop, asked, FALSE, progress, error);
    g_autoptr(RunSession) then = now ? run_session_of(richer, asked, FALSE, progress, error) : NULL;
    if (!then)
        return FALSE;
    *sooner = MAX(now->last_pour - then->last_pour, 0.0);
    return TRUE;
}

static RunMore
choose(const RunBottleneck *found)
{
    RunMore best = RUN_MORE_FLASK;
    for (RunMore i = 1; i < RUN_MORE_COUNT; i++)
        if (found->gain[i] > found->gain[best])
            best = i;
    if (found->gain[best] > 0)
        return best;
    // Nothing alone brings another flask: then what saves most time, else the hours.
    best = RUN_MORE_HOUR;
    for (RunMore i = 0; i < RUN_MORE_COUNT; i++)
        if (found->sooner[i] > found->sooner[best] + 60.0)
            best = i;
    return best;
}

gboolean
run_bottleneck_find(const RunShop *shop, int flasks, RunBottleneck *found, Progress *progress,
                    GError **error)
{
    g_return_val_if_fail(shop && found, FALSE);
    RunBottleneck result = {0};
    for (RunMore i = 0; i < RUN_MORE_COUNT; i++) {
        RunShop richer = make_richer(shop, i);
        int most = 0;
        if (!run_session_most(&richer, &most, progress, error))
            return FALSE;
        result.gain[i] = MAX(most - flasks, 0);
        if (i != RUN_MORE_HOUR &&
            !measure_sooner(shop, &richer, flasks, &result.sooner[i], progress, error))
            return FALSE;
    }
    result.which = choose(&result);
    *found = result;
    return TRUE;
}

const char *
run_bottleneck_word(RunMore which)
{
    static const char *const words[] = {"flasks", "hours", "crucible", "person", "furnace"};
    g_return_val_if_fail(which < RUN_MORE_COUNT, "");
    return words[which];
}

const char *
run_bottleneck_more(RunMore which)
{
    static const char *const words[] = {N_("One more flask"), N_("One more hour"),
                                        N_("A crucible that fills one more flask a load"),
                                        N_("One more pair of hands"),
                                        N_("A furnace that melts in half the time")};
    g_return_val_if_fail(which < RUN_MORE_COUNT, "");
    return _(words[which]);
}
