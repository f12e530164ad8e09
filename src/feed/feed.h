// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "feed": modulus of the rough casting, the riser that feeds it, and the chill that spares
// one.
#pragma once

#include "feed/modulus-map.h"
#include "part/pattern.h"

G_BEGIN_DECLS

// A square block in the sand against the casting; cavity's own axes as moulded, m.
typedef struct {
    double x, y;             // its middle, from the middle of the plan
    double face;             // height of the face it touches, from the parting
    double width, thickness; // 0 without a chill
    gboolean in_cope;        // it lies over the casting rather than under it
    double capacity;         // J/(m3 K), density times specific heat
    double conductivity;     // W/(m K)
} FeedChill;

typedef struct {
    double casting_modulus;  // m, of the heaviest section; without its chill
    double fed_modulus;      // m, the same with its chill: what riser and neck are sized for
    int risers;              // per casting
    double diameter, height; // m
    double neck;             // m, diameter
    double volume;           // m3, one riser
    double modulus;          // m
    double needed_modulus;   // m, what it has to have at least to freeze last
    double needed_volume;    // m3, likewise to hold enough; 0 where shrinkage is not known
    gboolean on_top, open;   // stands on the casting; reaches the cope's top
    double x, y, base;       // m, foot of one that stands on the casting: from the middle of the
                             // plan and from the parting, cavity's own axes as moulded; of one
                             // beside it the place it is to feed, and base 0
    double seat;             // share of that foot with metal under it
    SolidGrid *map; // local modulus, cold, casting's axes (modulus-map.h); NULL without a casting
    FeedSpot spots[FEED_MAP_MOST];
    guint n_spots; // places that are heavier than what is round them, the heaviest first
    FeedChill chill;
} FeedResult;

FeedResult *feed_result_ref(const FeedResult *result);
void feed_result_unref(const FeedResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FeedResult, feed_result_unref)

// The same feeding in a cope `cope` (m) deep: an open riser, which reaches up to its top, with the
// height and the diameter it has there; `scale` is cavity over cold casting. The diameter is NAN
// where the cope is too shallow for what it has to have, however wide.
FeedResult *feed_result_for_cope(const FeedResult *feed, const PatternResult *pattern, double scale,
                                 double cope);

extern const char *const feed_reads[];
FeedResult *feed_stage(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                       Progress *progress, GError **error);

G_END_DECLS
