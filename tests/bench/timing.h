// SPDX-License-Identifier: GPL-3.0-or-later
// Several runs of one thing, by the clock on the wall and of the processor, which a busy machine
// disturbs less.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TIMING_MOST 16

typedef struct {
    int n;
    double wall[TIMING_MOST], processor[TIMING_MOST]; // s
} Timing;

typedef struct {
    double wall, processor; // s
} Moment;

Moment timing_now(void);
void timing_add(Timing *timing, Moment start);
void timing_add_seconds(Timing *timing, double wall, double processor);

// The middle of the runs and the quickest, of wall[] or processor[].
double timing_median(const double *values, int n);
double timing_least(const double *values, int n);

void timing_print(const char *what, const Timing *timing);

// How many times as fast as a peer, by the middle of the runs, and whether `aim` is reached;
// 0 for no aim.
void timing_compare(const char *peer, const Timing *ours, const Timing *theirs, double aim);

// Prints a value against the most it should be.
void timing_aim(const char *what, double seconds, double most);

// Exponent of the growth of a time with a size.
double timing_growth(double time, double before, double size, double size_before);

G_END_DECLS
