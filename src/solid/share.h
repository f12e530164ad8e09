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

// The distance in six cells in a row, from within to outside: d[2] is the last in the region (<= 0)
// and d[3] the first outside (> 0). NAN where the grid ends. In the unit of `cell`.
typedef struct {
    double d[6];
    double cell;
} ShareLine;

#define SHARE_BEND 0.25  // of a cell a cell; less is no edge
#define SHARE_LEAN 0.05  // of a cell a cell; a flatter line says nothing
#define SHARE_ROUND 0.04 // of a cell a cell; more is not a round wall seen well

// How far (cells) a line that has `value` at its end and rose by `rise` and, before, by `rise` less
// `bend` over a cell, goes on to zero: with its bend, where that is a round wall's.
static inline double
solid_share_go_on(double value, double rise, double bend, double cell)
{
    double far = value / rise;
    if (!(fabs(bend) < SHARE_ROUND * cell))
        return far;
    for (int i = 0; i < 2; i++)
        far = (value - bend * (far + far * far) / 2) / rise;
    return far;
}

// The share of the way from d[2] to d[3]. A bend outwards is the edge of metal, where the sooner
// line counts, and one inwards a corner of it, where the later does.
static inline double
solid_share(const ShareLine *line, ShareSide *side)
{
    const double *d = line->d, cell = line->cell;
    double even = d[2] / (d[2] - d[3]), near = d[2] - d[1], far = d[4] - d[3];
    double bend = far - near; // NAN if either is
    *side = SHARE_EVEN;
    if (!(fabs(bend) > SHARE_BEND * cell))
        return even;
    double from_in = INFINITY, from_out = -INFINITY;
    if (near > SHARE_LEAN * cell)
        from_in = solid_share_go_on(-d[2], near, near - (d[1] - d[0]), cell);
    if (far > SHARE_LEAN * cell)
        from_out = 1 - solid_share_go_on(d[3], far, far - (d[5] - d[4]), cell);
    gboolean in_counts = from_in >= 0 && from_in <= 1, out_counts = from_out >= 0 && from_out <= 1;
    if (!in_counts && !out_counts)
        return even;
    gboolean both = in_counts && out_counts;
    gboolean take_in = both ? (bend > 0) == (from_in < from_out) : in_counts;
    *side = take_in ? SHARE_IN : SHARE_OUT;
    return take_in ? from_in : from_out;
}

// The line through the cells a step apart, of which *in is the last in the region and the next one
// `way` steps on is outside; `back` and `on` cells of the grid lie before it and after it.
static inline ShareLine
solid_share_line(const float *in, gssize way, int back, int on, double cell)
{
    ShareLine line = {.cell = cell};
    for (int i = 0; i < 6; i++) {
        int at = i - 2;
        line.d[i] = at >= -back && at <= on ? (double)in[at * way] : NAN;
    }
    return line;
}

G_END_DECLS
