// SPDX-License-Identifier: GPL-3.0-or-later
// Lines that a runner may take along an axis; private to rest.c and mixed.c.
#pragma once

#include "mould/rest.h"

G_BEGIN_DECLS

#define REST_LINES 33

typedef struct {
    const MouldRestTask *task;
    int axis;
    double kept; // m, room for the gating on either side of the line
    double near; // m, lines so near to each other are as good as one
    double v[REST_LINES];
    int n;
} RestLines;

// Adds a line that leaves room for sprue and sand before the walls, unless it is among them.
void rest_line_add(RestLines *lines, double v);
// Where the sprue has its place: adds the line through it, and TRUE.
gboolean rest_line_add_given(RestLines *lines);
// As near to each locked one as sand allows, on both sides of it, and midway between the fronts of
// any two.
void rest_line_add_locked(RestLines *lines);

// Where the sprue of a line is: NAN along it where that is still to be found.
void rest_line_sprue(const MouldRestTask *task, int axis, double v, double *x, double *y);

// How far a gating may reach from a line at `v` to keep its sand from all locked ones, m; INFINITY
// where nothing is locked.
double rest_line_room(const MouldRestTask *task, int axis, double v);
// What locked ones lack of the sand to the gating kept along a line at `v`, all together, m.
double rest_line_lack(const MouldRestTask *task, int axis, double v, double kept);

G_END_DECLS
