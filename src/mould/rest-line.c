// SPDX-License-Identifier: GPL-3.0-or-later
// Lines for a runner: through the sprue, and past what is locked.
#include "mould/rest-line.h"

#include <math.h>

#include "mould/rest-shape.h"

#define SPARE 1e-5 // m, from a locked one, so that sand is not lacking by a rounded digit

void
rest_line_add(RestLines *l, double v)
{
    const MouldWish *wish = &l->task->fixed->wish;
    double wide = wish->round || l->axis ? wish->length : wish->width;
    if (!(fabs(v) + l->kept + wish->cover_wall <= wide / 2) || l->n >= REST_LINES)
        return;
    for (int i = 0; i < l->n; i++)
        if (fabs(l->v[i] - v) < l->near)
            return;
    l->v[l->n++] = v;
}

gboolean
rest_line_add_given(RestLines *l)
{
    double v = l->axis ? -l->task->sprue_x : l->task->sprue_y;
    if (isnan(v))
        return FALSE;
    rest_line_add(l, v);
    return TRUE;
}

static double
across(const PlacementSpot *p, int axis)
{
    return axis ? -p->x : p->y;
}

// Up to where a gating may reach towards a locked one that stands at `side` of it.
static double
find_edge(const MouldRestTask *t, const PlacementSpot *p, int axis, int side)
{
    const MouldFixed *fixed = mould_fixed_of(t->fixed, p->guest);
    MouldBeside beside = mould_place_beside(&fixed->wish);
    double turn = p->turn - axis * G_PI / 2 + (side < 0 ? G_PI : 0);
    MouldStance s = mould_stance_reach(fixed->shadow, fixed->skin, turn, &beside);
    double front = s.front + fixed->out + rest_shape_riser(&fixed->wish);
    return across(p, axis) - side * (front + fixed->wish.cover_runner);
}

void
rest_line_add_locked(RestLines *l)
{
    const MouldRestTask *t = l->task;
    for (guint i = 0; i < t->n_locked; i++) {
        const PlacementSpot *p = &t->locked[i];
        for (int side = -1; side <= 1; side += 2)
            rest_line_add(l, find_edge(t, p, l->axis, side) - side * (l->kept + SPARE));
        for (guint k = 0; k < i; k++) {
            const PlacementSpot *q = &t->locked[k];
            int side = across(p, l->axis) < across(q, l->axis) ? -1 : 1;
            rest_line_add(l,
                          (find_edge(t, p, l->axis, side) + find_edge(t, q, l->axis, -side)) / 2);
        }
    }
}

void
rest_line_sprue(const MouldRestTask *t, int axis, double v, double *x, double *y)
{
    *x = !isnan(t->sprue_x) ? t->sprue_x : axis ? -v : NAN;
    *y = !isnan(t->sprue_y) ? t->sprue_y : axis ? NAN : v;
}

static double
room_to(const MouldRestTask *t, const PlacementSpot *p, int axis, double v)
{
    int side = across(p, axis) < v ? -1 : 1;
    return side * (find_edge(t, p, axis, side) - v);
}

double
rest_line_room(const MouldRestTask *t, int axis, double v)
{
    double room = INFINITY;
    for (guint i = 0; i < t->n_locked; i++)
        room = fmin(room, room_to(t, &t->locked[i], axis, v));
    return room;
}

double
rest_line_lack(const MouldRestTask *t, int axis, double v, double kept)
{
    double lack = 0;
    for (guint i = 0; i < t->n_locked; i++)
        lack += fmax(0, kept - room_to(t, &t->locked[i], axis, v));
    return lack;
}
