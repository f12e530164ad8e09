// SPDX-License-Identifier: GPL-3.0-or-later
// No more than so many: upper bounds on how many equal outlines fit a flask with sand between,
// turned any way. Every bound holds for every arrangement, by the program
// or by hand, that keeps the sand.
//
// Of the gating the well alone is counted: it lies at the parting and keeps its sand to the wall
// and to castings and risers wherever it is. Gates lie in the sand that a runner asks for; a runner
// may be hardly longer than the well, and a neck keeps no sand. So these count nothing.
#pragma once

#include "base/progress.h"
#include "mould/place.h"

G_BEGIN_DECLS

typedef struct {
    gboolean round;
    double length, width;        // m, where outlines may reach; the diameter twice when round
    double clearance;            // m, between outlines, and to the well
    double well;                 // m, diameter; 0 without
    const SolidOutline *outline; // m, about any origin
} MouldBoundTask;

// Distance, m, of a point from the outline's nearest side; negative outside.
double mould_bound_depth(const SolidOutline *outline, SolidPoint point);

// Area, m2, of all that is within `reach` (m) of the outline or inside it: of thin rows, in each
// what is surely covered, so a little less.
double mould_bound_grown(const SolidOutline *outline, double reach);

// Diameter, m, of the least well with which any arrangement of `n` cavities or more can be filled:
// for metal of the cavities alone, gates as slow as they are ever drawn for, and the narrowest side
// a gate may enter, that of a disc of `radius` in the casting or of the riser.
double mould_bound_well(const MouldWish *wish, guint n, double radius);

// Radius, m, of a disc that lies in the outline: nearly the largest. 0 for none.
double mould_bound_inscribed(const SolidOutline *outline);

// Discs of `radius` with `clearance` between, not floored: their middles lie in the convex region
// that is `radius` away from every wall, at least d = 2 radius + clearance from one another, and
// such points are at most 2/sqrt(3) area/d^2 + girth/(2 d) + 1 (N. Oler, Acta Mathematica 105,
// 1961; H. Groemer, Mathematische Zeitschrift 73, 1960; from memory). `task->outline` is not read.
double mould_bound_discs(const MouldBoundTask *task, double radius);

// The strip bound: every strip of the flask, along it and across, is given a worth by a linear
// program so that each outline, however it stands, covers at least 1 of it; then no more fit than
// all strips together are worth without the least that the well covers. With equal worth everywhere
// this is the bound by area. Judged with outlines a little too small, so that it holds between the
// angles and places looked at; what the program returns need only be good, not best. Stops as soon
// as no more than `enough` fit. NAN when stopped.
double mould_bound_strips(const MouldBoundTask *task, guint enough, const Progress *progress);

G_END_DECLS
