// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "feed": modulus of the rough casting and the riser that feeds it.
#pragma once

#include "part/pattern.h"

G_BEGIN_DECLS

typedef struct {
    double casting_modulus;  // m
    int risers;              // per casting
    double diameter, height; // m
    double neck;             // m, diameter
    double volume;           // m3, one riser
    double modulus;          // m
} FeedResult;

FeedResult *feed_result_ref(const FeedResult *result);
void feed_result_unref(const FeedResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FeedResult, feed_result_unref)

extern const char *const feed_reads[];
FeedResult *feed_stage(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                       Progress *progress, GError **error);

G_END_DECLS
