// SPDX-License-Identifier: GPL-3.0-or-later
// How many castings to start so that enough of them come good, with a fixed good rate or with one
// learned from counts.
#pragma once

#include "base/progress.h"

G_BEGIN_DECLS

// Above this many castings the search gives up and says so; it bounds the time a book can ask for.
#define SESSION_BATCH_MOST 10000000

// Counts as if this many castings had been seen, when the log holds none: nine good of ten.
#define SESSION_PRIOR_GOOD 9.0
#define SESSION_PRIOR_BAD 1.0

typedef struct {
    gboolean found; // FALSE: more than SESSION_BATCH_MOST would be needed
    int castings;   // smallest number to start; 0 if not found
    double chance;  // that at least `wanted` of them are good
    double before;  // the same with one casting fewer
} SessionBatch;

// Smallest n with P(at least `wanted` good of n) >= confidence when each is good with chance `rate`
// on its own: the binomial tail, summed as the negative binomial over the bad castings that come
// before the last good one. Chances that fall short by rounding only count as reached. FALSE when
// stopped (BASE_ERROR_CANCELLED), or with BASE_ERROR_VALUE when wanted < 1, rate is not in (0, 1]
// or confidence is not in (0, 1); *batch is then untouched.
gboolean session_batch_fixed(int wanted, double rate, double confidence, SessionBatch *batch,
                             Progress *progress, GError **error);

// The same when the rate itself is uncertain, Beta(a, b): the beta-binomial tail. With s good of m
// seen and Jeffreys' prior a = s + 1/2, b = m - s + 1/2. Errors also when a or b is not above 0.
gboolean session_batch_learned(int wanted, double a, double b, double confidence,
                               SessionBatch *batch, Progress *progress, GError **error);

G_END_DECLS
