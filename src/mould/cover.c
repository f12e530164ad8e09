// SPDX-License-Identifier: GPL-3.0-or-later
// Sand cover of a layout, from the measurement in space.
#include "mould/cover.h"

#include <math.h>

static double
take(const MouldSpace *space, MouldCoverKind kind, Vec3 *from, Vec3 *to)
{
    MouldGap gap = mould_space_least(space, kind);
    *from = gap.from;
    *to = gap.to;
    return gap.distance;
}

void
mould_cover_measure(MouldLayout *l, const MouldBody *body, const MouldSpace *before)
{
    g_return_if_fail(l != NULL && body != NULL);
    MouldSpace *space = mould_space_measure(l, body, before);
    Vec3 from, to;
    l->cover_wall = take(space, MOULD_COVER_WALL, &l->cover_wall_from, &l->cover_wall_to);
    l->cover_between = take(space, MOULD_COVER_BETWEEN, &l->cover_between_from,
                            &l->cover_between_to);
    l->cover_sprue = take(space, MOULD_COVER_SPRUE, &l->cover_sprue_from, &l->cover_sprue_to);
    l->cover_runner = take(space, MOULD_COVER_RUNNER, &l->cover_runner_from, &l->cover_runner_to);
    l->cover_top = take(space, MOULD_COVER_TOP, &from, &to);
    l->cover_bottom = take(space, MOULD_COVER_BOTTOM, &from, &to);
    mould_body_unref(l->body);
    mould_space_unref(l->space);
    l->body = mould_body_ref(body);
    l->space = space;
}
