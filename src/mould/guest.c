// SPDX-License-Identifier: GPL-3.0-or-later
// What is known of another job's casting.
#include "mould/guest.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
clear_guest(gpointer data)
{
    MouldGuest *guest = data;
    g_free(guest->job);
    g_free(guest->name);
    pattern_result_unref(guest->pattern);
    feed_result_unref(guest->feed);
}

MouldGuest *
mould_guest_new(const char *job, const char *name, const PatternResult *pattern,
                const FeedResult *feed, double cope, double contraction, double mass, double wanted,
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
    guest->feed = feed ? feed_result_for_cope(feed, pattern, s, cope) : NULL;
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
mould_guest_trouble(const MouldGuest *guest)
{
    g_return_val_if_fail(guest != NULL, NULL);
    const FeedResult *f = guest->feed;
    if (f && f->risers > 0 && f->open && isnan(f->diameter) && f->needed_modulus > 0 &&
        f->needed_volume >= 0)
        return g_strdup_printf(_("this cope is too shallow for the open riser of %s, however wide: "
                                 "take a deeper one, or make that riser blind"),
                               guest->name);
    if (!f || (f->risers > 0 && !isfinite(f->diameter + f->height + f->neck)))
        return g_strdup_printf(_("the feeding of %s is not known; look at that job"), guest->name);
    return NULL;
}
