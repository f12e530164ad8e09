// SPDX-License-Identifier: GPL-3.0-or-later
// How many castings to start. Both tails are summed in one walk over f, the bad castings that come
// before the last good one wanted:
//
//   P(n) = sum of t(f), f = 0 .. n - N,   t(0) = P(the first N are all good),
//   t(f+1) / t(f) = (N + f) / (f + 1) * (chance that the next is bad, all these being known)
//
// where that chance is 1 - p for a fixed rate and (b + f) / (a + b + N + f) for Beta(a, b). Each
// step adds a term, none is subtracted, so the sum only grows and is good to the last few bits; the
// first n that reaches the wanted confidence is the smallest. t(0) can be far below the smallest
// double, so terms carry a common exponent.
#include "session/batch.h"

#include <math.h>

#include "base/error.h"

// Chances that lack less than this share count as reached: 0.9 wanted and 0.9 had is enough.
#define ROUNDING 1e-12
#define STRIDE 65536

typedef struct {
    double rate; // > 0: fixed; else learned
    double a, b;
} Chance;

// term and sum stand for term * exp(offset) and sum * exp(offset).
typedef struct {
    double term, sum, offset;
} Walk;

static double
get_good_chance(const Chance *chance, double good_so_far)
{
    if (chance->rate > 0.0)
        return chance->rate;
    return (chance->a + good_so_far) / (chance->a + chance->b + good_so_far);
}

static double
get_bad_chance(const Chance *chance, double good, double bad)
{
    if (chance->rate > 0.0)
        return 1.0 - chance->rate;
    return (chance->b + bad) / (chance->a + chance->b + good + bad);
}

static void
rescale(Walk *walk)
{
    if (walk->sum > 1e200 || walk->sum < 1e-200) {
        walk->offset += log(walk->sum);
        walk->term /= walk->sum;
        walk->sum = 1.0;
    }
}

static double
get_chance(const Walk *walk)
{
    if (walk->offset == 0.0)
        return walk->sum;
    return exp(log(walk->sum) + walk->offset);
}

static gboolean
is_reached(const Walk *walk, double confidence)
{
    return get_chance(walk) >= confidence * (1.0 - ROUNDING);
}

// The chance that the first `wanted` castings are all good.
static gboolean
start_walk(const Chance *chance, int wanted, Walk *walk, Progress *progress, GError **error)
{
    *walk = (Walk){.term = 1.0, .sum = 1.0};
    for (int i = 0; i < wanted; i++) {
        if (i % STRIDE == 0 && !progress_check(progress, error))
            return FALSE;
        walk->term *= get_good_chance(chance, i);
        walk->sum = walk->term;
        rescale(walk);
    }
    return TRUE;
}

static gboolean
search(const Chance *chance, int wanted, double confidence, SessionBatch *batch, Progress *progress,
       GError **error)
{
    Walk walk;
    if (!start_walk(chance, wanted, &walk, progress, error))
        return FALSE;
    double before = 0.0;
    int bad = 0;
    while (!is_reached(&walk, confidence)) {
        if (wanted + bad >= SESSION_BATCH_MOST) {
            *batch = (SessionBatch){.found = FALSE, .before = get_chance(&walk)};
            return TRUE;
        }
        if (bad % STRIDE == 0 && !progress_check(progress, error))
            return FALSE;
        before = get_chance(&walk);
        double more = ((double)wanted + bad) / (bad + 1.0);
        walk.term *= more * get_bad_chance(chance, wanted, bad);
        walk.sum += walk.term;
        rescale(&walk);
        bad++;
    }
    *batch = (SessionBatch){.found = TRUE,
                            .castings = wanted + bad,
                            .chance = MIN(get_chance(&walk), 1.0),
                            .before = before};
    return TRUE;
}

static gboolean
check_wanted(int wanted, double confidence, GError **error)
{
    if (wanted < 1 || wanted > SESSION_BATCH_MOST)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "good parts wanted",
                               "ask for 1 to 10 million", "%d cannot be planned", wanted);
    if (!(confidence > 0.0 && confidence < 1.0))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "wanted confidence",
                               "give a share above 0 and below 100 %", "%g is not a chance",
                               confidence);
    return TRUE;
}

gboolean
session_batch_fixed(int wanted, double rate, double confidence, SessionBatch *batch,
                    Progress *progress, GError **error)
{
    g_return_val_if_fail(batch, FALSE);
    if (!check_wanted(wanted, confidence, error))
        return FALSE;
    if (!(rate > 0.0 && rate <= 1.0))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "good-casting rate",
                               "give a share above 0, at most 100 %", "%g is not a rate", rate);
    Chance chance = {.rate = rate};
    return search(&chance, wanted, confidence, batch, progress, error);
}

gboolean
session_batch_learned(int wanted, double a, double b, double confidence, SessionBatch *batch,
                      Progress *progress, GError **error)
{
    g_return_val_if_fail(batch, FALSE);
    if (!check_wanted(wanted, confidence, error))
        return FALSE;
    if (!(a > 0.0 && b > 0.0 && isfinite(a) && isfinite(b)))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "counts of the log",
                               "count at least 0 good and 0 bad castings",
                               "%g and %g are no shape of a beta distribution", a, b);
    Chance chance = {.a = a, .b = b};
    return search(&chance, wanted, confidence, batch, progress, error);
}
