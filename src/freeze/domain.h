// SPDX-License-Identifier: GPL-3.0-or-later
// The box of cells in which the heat flow runs: the casting with its riser and neck, and sand round
// it as far as heat gets.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct {
    int nx, ny, nz;
    double cell;   // m
    Vec3 origin;   // middle of cell 0,0,0 in the casting's axes
    float *share;  // of metal in each cell
    guint8 *riser; // 1 where the metal is riser or neck rather than casting
    float *chill;  // share of the chill in what is not metal; NULL without one
} FreezeDomain;

void freeze_domain_free(FreezeDomain *domain);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FreezeDomain, freeze_domain_free)

// A domain of about `budget` cells with `sand` m of sand on every side, cells no smaller than
// `smallest`. `layout` gives riser and chill of its first cavity and may be NULL. NULL when
// stopped.
FreezeDomain *freeze_domain_new(const PatternResult *pattern, const MouldLayout *layout,
                                double sand, double smallest, gsize budget, Progress *progress,
                                GError **error);

G_END_DECLS
