// SPDX-License-Identifier: GPL-3.0-or-later
// The sessions after the first one of a new crucible: it is tempered once, so they warm up sooner
// and may pour more.
#pragma once

#include "figure/figure.h"
#include "session/session.h"

G_BEGIN_DECLS

typedef struct {
    gboolean differs;  // FALSE: later sessions are like the first, and nothing else is set
    SessionShop shop;  // as in a later session, without pins
    int flasks, loads; // of a later session that is full
    double length;     // s
} SessionLater;

// `flasks` of the first session, at least 1; `saved` in s, what the later ones need not wait. FALSE
// only when stopped.
gboolean session_later_find(const SessionShop *shop, int flasks, double saved, SessionLater *later,
                            Progress *progress, GError **error);

// Adds run.later_warmup, run.later_loads, run.later_flasks, run.later_castings and run.later_length
// where later sessions differ; the figures of the batch count with them then.
void session_add_later(const SessionLater *later, FigureList *figures);

G_END_DECLS
