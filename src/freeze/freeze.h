// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "freeze": when casting and riser are solid, and when the mould can be shaken out.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct {
    double casting_time, riser_time; // s, by Chvorinov
    double simulated_time;           // s, by transient heat flow
    double simulated_riser_time;     // s; NAN without a riser
    double shakeout_time;            // s
    int hot_spots;
    double niyama_min;      // K^0.5 s^0.5 / m
    SolidGrid *solid_times; // s after the mould is full, by cell in the casting's axes; NAN in the
                            // sand. NULL when heat flow could not be computed
} FreezeResult;

FreezeResult *freeze_result_ref(const FreezeResult *result);
void freeze_result_unref(const FreezeResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FreezeResult, freeze_result_unref)

extern const char *const freeze_reads[];
FreezeResult *freeze_stage(const Inputs *inputs, const PatternResult *pattern,
                           const FeedResult *feed, const MouldLayout *layout, FigureList *figures,
                           Progress *progress, GError **error);

G_END_DECLS
