// SPDX-License-Identifier: GPL-3.0-or-later
// The casting of another job that shares a flask: what the layout has to know of it. Made from that
// job's own rough casting and feeding; immutable, reference-counted.
#pragma once

#include "feed/feed.h"
#include "part/pattern.h"

G_BEGIN_DECLS

typedef struct MouldGuest {
    char *job, *name; // id of the other job; its name, or again the id
    PatternResult *pattern;
    FeedResult *feed;          // how its castings are fed in this flask; NULL: not known
    double growth;             // 1 + contraction of that job
    double mass;               // kg, of its cold casting
    double volume;             // m3, of its cavity
    double above, below;       // m, of its cavity
    double wall;               // m, thinnest as moulded; NAN: unknown
    double wanted, own_wanted; // castings still wanted, of it and of the job whose flask it is
} MouldGuest;

// `feed` is that of its own plan; an open riser gets the height and width it has in a cope `cope`
// (m) deep. `name` and `feed` may be NULL.
MouldGuest *mould_guest_new(const char *job, const char *name, const PatternResult *pattern,
                            const FeedResult *feed, double cope, double contraction, double mass,
                            double wanted, double own_wanted);
MouldGuest *mould_guest_ref(const MouldGuest *guest);
void mould_guest_unref(const MouldGuest *guest);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldGuest, mould_guest_unref)

// Why its castings cannot stand in the flask. NULL: they can. Free.
char *mould_guest_trouble(const MouldGuest *guest);

G_END_DECLS
