// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "pull": which way the pattern is drawn, as given or else the best the search finds.
#pragma once

#include "part/part.h"
#include "part/search.h"

G_BEGIN_DECLS

typedef struct {
    Vec3 pull;          // unit, part axes, into the cope
    gboolean searched;  // no pull was given
    SearchResult found; // what the search found, best first; empty when a pull was given
    char *digest;       // of the pull alone: what comes after hangs on nothing else here
} PullResult;

PullResult *pull_result_ref(const PullResult *result);
void pull_result_unref(const PullResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(PullResult, pull_result_unref)

// What the shape of the casting hangs on, from the inputs; `missing` (may be NULL) is set to the
// path of the first that is unknown, else to NULL.
EnvelopeOptions pull_options(const Inputs *inputs, const char **missing);

// Figures pattern.pull.*. NULL without an error and with unknown figures for a part that is not
// closed or an unknown option; NULL with an error when stopped or when the pull can't be read.
extern const char *const pull_reads[];
PullResult *pull_stage(const Inputs *inputs, const PartResult *part, FigureList *figures,
                       Progress *progress, GError **error);

G_END_DECLS
