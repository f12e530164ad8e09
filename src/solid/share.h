// SPDX-License-Identifier: GPL-3.0-or-later
// Where between two neighbours on a grid a distance passes zero. A distance bends where two walls
// meet: inside a sharp edge a cell may be nearer to the wall it does not look at, and a straight
// line from it would cut the edge off. So the lines on both sides, carried on, are asked as well.
#pragma once

#include <glib.h>
#include <math.h>

G_BEGIN_DECLS

typedef enum {
    SHARE_EVEN, // no bend: between the two
    SHARE_IN,   // the line from within, carried on
    SHARE_OUT,  // the line from outside, carried back
} ShareSide;

#define SHARE_BEND 0.25 // of a cell a cell; less is a round wall
#define SHARE_LEAN 0.05 // of a cell a cell; a flatter line says nothing

// The share of the way from `in` (<= 0) to `out` (> 0); `before` lies one further in, `beyond` one
// further out, NAN where the grid ends. Distances in the unit of `cell`. A bend outwards is the
// edge of metal, where the sooner line counts, and one inwards a corner of it, where the later
// does.
static inline double
solid_share(double before, double in, double out, double beyond, double cell, ShareSide *side)
{
    double even = in / (in - out), near = in - before, far = beyond - out;
    double bend = far - near; // NAN if either is
    *side = SHARE_EVEN;
    if (!(fabs(bend) > SHARE_BEND * cell))
        return even;
    double from_in = near > SHARE_LEAN * cell ? -in / near : INFINITY;
    double from_out = far > SHARE_LEAN * cell ? 1 - out / far : -INFINITY;
    gboolean in_counts = from_in <= 1, out_counts = from_out >= 0;
    if (!in_counts && !out_counts)
        return even;
    gboolean both = in_counts && out_counts;
    gboolean take_in = both ? (bend > 0) == (from_in < from_out) : in_counts;
    *side = take_in ? SHARE_IN : SHARE_OUT;
    return take_in ? from_in : from_out;
}

G_END_DECLS
