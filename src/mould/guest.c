// SPDX-License-Identifier: GPL-3.0-or-later
// What is known of another job's casting.
#include "mould/guest.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SAME 1e-6 // m

static void
clear_guest(gpointer data)
{
    MouldGuest *guest = data;
    g_free(guest->job);
    g_free(guest->name);
    pattern_result_unref(guest->pattern);
}

MouldGuest *
mould_guest_new(const char *job, const char *name, const PatternResult *pattern,
                const FeedResult *feed, double contraction, double mass, double wanted,
                double own_wanted)
{
    g_return_val_if_fail(job != NULL && pattern != NULL, NULL);
    MouldGuest *guest = g_atomic_rc_box_new0(MouldGuest);
    double s = 1 + contraction;
    guest->job = g_strdup(job);
    guest->name = g_strdup(name && *name ? name : job);
    guest->pattern = pattern_result_ref(pattern);
    guest->growth = s;
    guest->mass = mass;
    guest->volume = pattern->volume * s * s * s;
    guest->above = pattern->height_cope * s;
    guest->below = pattern->height_drag * s;
    guest->wall = pattern->thinnest > 0 ? pattern->thinnest * s : NAN;
    guest->wanted = wanted;
    guest->own_wanted = own_wanted;
    if (feed && feed->risers > 0) {
        guest->riser = TRUE;
        guest->riser_diameter = feed->diameter;
        guest->riser_height = feed->height;
    }
    return guest;
}

MouldGuest *
mould_guest_ref(const MouldGuest *guest)
{
    return g_atomic_rc_box_acquire((gpointer)guest);
}

void
mould_guest_unref(const MouldGuest *guest)
{
    if (guest)
        g_atomic_rc_box_release_full((gpointer)guest, clear_guest);
}

char *
mould_guest_trouble(const MouldGuest *guest, const FeedResult *own, const FeedResult *guests)
{
    g_return_val_if_fail(guest != NULL, NULL);
    if (!guests)
        return g_strdup_printf(_("the feeding of %s is not known; look at that job"), guest->name);
    if (guests->chill.width > 0)
        return g_strdup_printf(_("%s has a chill: share the other way round, or leave it out"),
                               guest->name);
    if (!guest->riser)
        return NULL;
    if (guests->on_top)
        return g_strdup_printf(_("a riser stands on %s: put it beside the casting, or pour it in "
                                 "flasks of its own"),
                               guest->name);
    if (!own || own->risers == 0 || own->on_top)
        return g_strdup_printf(_("%s needs a riser beside it and this job has none such: share the "
                                 "other way round"),
                               guest->name);
    if (guest->riser_diameter > own->diameter + SAME || guest->riser_height > own->height + SAME)
        return g_strdup_printf(_("the riser of %s is larger than this job's: share the other way "
                                 "round"),
                               guest->name);
    return NULL;
}
