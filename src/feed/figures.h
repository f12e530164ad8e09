// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of stage "feed" in their order. Private to feed/.
#pragma once

#include "feed/feed.h"

G_BEGIN_DECLS

typedef struct {
    const Inputs *inputs;
    const PatternResult *pattern; // NULL while there is none
    FigureList *figures;
    FeedResult *result;
    double scale; // cavity over cold casting
    // What is to be fed, with its chill, and the figures that say so.
    double section, evenness;
    const char *section_id, *evenness_id;
} FeedWork;

// Where it is heavy, by the map in the result.
void feed_figures_spot(FeedWork *work);
// The chill, if one is wished; changes what is to be fed.
void feed_figures_chill(FeedWork *work);
// Whether there is a riser, where, and how large.
void feed_figures_riser(FeedWork *work);

G_END_DECLS
