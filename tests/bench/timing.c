// SPDX-License-Identifier: GPL-3.0-or-later
// Times of several runs and what they are worth beside an aim. Nothing is asserted.
#include "timing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double
read_clock(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

Moment
timing_now(void)
{
    return (Moment){read_clock(CLOCK_MONOTONIC), read_clock(CLOCK_PROCESS_CPUTIME_ID)};
}

void
timing_add_seconds(Timing *t, double wall, double processor)
{
    g_return_if_fail(t->n < TIMING_MOST);
    t->wall[t->n] = wall;
    t->processor[t->n++] = processor;
}

void
timing_add(Timing *t, Moment start)
{
    Moment now = timing_now();
    timing_add_seconds(t, now.wall - start.wall, now.processor - start.processor);
}

static int
compare_doubles(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double
timing_median(const double *values, int n)
{
    double sorted[TIMING_MOST];
    if (n == 0)
        return NAN;
    memcpy(sorted, values, (gsize)n * sizeof *sorted);
    qsort(sorted, (gsize)n, sizeof *sorted, compare_doubles);
    return sorted[n / 2];
}

double
timing_least(const double *values, int n)
{
    double least = INFINITY;
    for (int i = 0; i < n; i++)
        least = fmin(least, values[i]);
    return least;
}

void
timing_print(const char *what, const Timing *t)
{
    g_print("  %-34s middle %.4f s, best %.4f s, processor %.4f s\n", what,
            timing_median(t->wall, t->n), timing_least(t->wall, t->n),
            timing_median(t->processor, t->n));
}

void
timing_compare(const char *peer, const Timing *ours, const Timing *theirs, double aim)
{
    double ratio = timing_median(theirs->wall, theirs->n) / timing_median(ours->wall, ours->n);
    double best = timing_least(theirs->wall, theirs->n) / timing_least(ours->wall, ours->n);
    double processor = timing_least(theirs->processor, theirs->n) /
                       timing_least(ours->processor, ours->n);
    g_print("  OURS / %s: %.2f times as fast (best runs %.2f, processor time %.2f)", peer, ratio,
            best, processor);
    if (aim > 0)
        g_print("; aim %.2f: %s", aim, ratio >= aim ? "met" : "MISSED");
    g_print("\n");
}

void
timing_aim(const char *what, double seconds, double most)
{
    g_print("  %s %.3f s; aim at most %.2f s: %s\n", what, seconds, most,
            seconds <= most ? "met" : "MISSED");
}

double
timing_growth(double time, double before, double size, double size_before)
{
    return log(time / before) / log(size / size_before);
}
