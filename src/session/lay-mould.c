// SPDX-License-Identifier: GPL-3.0-or-later
// The sand's side of laying out: ramming step by step, and shaking out.
#include <math.h>

#include "session/lay-state.h"

// Sand taken to the last gram is there: sums of masses round.
#define ROUNDING 1e-9

static const TaskKind step_kinds[LAY_STEPS] = {TASK_RAM_DRAG, TASK_RAM_COPE, TASK_DRAW, TASK_SHUT};

gboolean
lay_is_light(const Lay *lay, double start, double end)
{
    return start >= lay->floor->light_from && end <= lay->floor->light_to;
}

double
lay_sand_back(const Lay *lay, const LayMould *mould)
{
    return mould->step == 0 ? -INFINITY : mould->gone + lay->floor->sand_rest;
}

double
lay_sand_ready(const Lay *lay)
{
    double ready = lay->floor->sand_ready;
    for (int i = 0; isfinite(ready) && i < lay->n_moulds; i++)
        if (lay_sand_back(lay, &lay->moulds[i]) > lay->now)
            ready -= lay->floor->kinds[lay->moulds[i].kind].sand;
    return ready;
}

static double
count_sand_asked(const Lay *lay, int until)
{
    double asked = 0.0;
    for (int i = 0; i < until; i++)
        if (lay->moulds[i].step == 0)
            asked += lay->floor->kinds[lay->moulds[i].kind].sand;
    return asked;
}

double
lay_find_sand(const Lay *lay, int until)
{
    if (!isfinite(lay->floor->sand_ready))
        return lay->now;
    double lacks = count_sand_asked(lay, until) * (1.0 - ROUNDING) - lay_sand_ready(lay);
    double at = lay->now;
    // What comes back next, and so on until it does.
    while (lacks > 0.0) {
        double next = INFINITY, back = 0.0;
        for (int i = 0; i < lay->n_moulds; i++) {
            double time = lay_sand_back(lay, &lay->moulds[i]);
            double kg = lay->floor->kinds[lay->moulds[i].kind].sand;
            if (time > at && time < next)
                back = 0.0;
            if (time > at && time <= next) {
                next = time;
                back += kg;
            }
        }
        if (!isfinite(next))
            return INFINITY;
        at = next;
        lacks -= back;
    }
    return at;
}

// TRUE if the mould may take its sand now without leaving an earlier one short: else a later load
// could hold all of it and wait for an earlier one for ever.
static gboolean
has_sand(const Lay *lay, int mould)
{
    return !isfinite(lay->floor->sand_ready) ||
           count_sand_asked(lay, mould + 1) * (1.0 - ROUNDING) <= lay_sand_ready(lay);
}

static gboolean
has_free(const double *free_from, int n, double time)
{
    for (int i = 0; i < n; i++)
        if (free_from[i] <= time)
            return TRUE;
    return FALSE;
}

// Whether these hands may begin the next step of a mould now.
static gboolean
may_step(const Lay *lay, int mould, int who)
{
    const LayMould *m = &lay->moulds[mould];
    double duration = lay->floor->kinds[m->kind].ram[m->step];
    return m->until <= lay->now &&
           session_floor_pin(lay->floor, step_kinds[m->step], mould + 1) <= lay->now &&
           lay_is_light(lay, lay->now, lay->now + duration) && !lay_is_awaited(lay, who, duration);
}

static void
step(Lay *lay, int mould, int who)
{
    const LayMould *m = &lay->moulds[mould];
    double end = lay->now + lay->floor->kinds[m->kind].ram[m->step];
    lay_begin_step(lay, mould, -1, m->step, who, lay->now, end);
}

static int
find_open(const Lay *lay, int who)
{
    int best = -1;
    for (guint i = 0; i < lay->open->len; i++) {
        int mould = g_array_index(lay->open, int, i);
        if ((best < 0 || mould < best) && may_step(lay, mould, who))
            best = mould;
    }
    return best;
}

// The first mould that can be begun: there is a box of its kind, a bench, sand.
static int
find_new(const Lay *lay, int who)
{
    int best = -1;
    if (lay->not_begun == 0 || !has_free(lay->benches, lay->n_benches, lay->now))
        return -1;
    for (int k = 0; k < lay->floor->n_boxes; k++) {
        int mould = lay->first_mould[k];
        if (mould >= 0 && (best < 0 || mould < best) &&
            has_free(lay->boxes[k], lay->floor->boxes[k], lay->now) && has_sand(lay, mould) &&
            may_step(lay, mould, who))
            best = mould;
    }
    return best;
}

gboolean
lay_try_ram(Lay *lay, int who)
{
    int mould = find_open(lay, who);
    if (mould < 0)
        mould = find_new(lay, who);
    if (mould < 0)
        return FALSE;
    step(lay, mould, who);
    return TRUE;
}

static int
count_to_pour(const Lay *lay)
{
    int moulds = 0;
    for (int i = 0; i < lay->n_loads; i++)
        moulds += lay->loads[i].n - lay->loads[i].poured;
    return moulds;
}

// TRUE if something waits for what the mould holds: its box, its place or its sand.
static gboolean
is_needed(const Lay *lay, const LayMould *mould)
{
    if (lay->first_mould[lay->floor->kinds[mould->kind].box] >= 0)
        return TRUE;
    if (lay->not_begun > 0 && isfinite(lay->floor->sand_ready) && isfinite(lay->floor->sand_rest))
        return TRUE;
    if (lay->n_places >= lay->n_moulds)
        return FALSE;
    int free = 0;
    for (int i = 0; i < lay->n_places; i++)
        free += isfinite(lay->places[i]);
    return free < count_to_pour(lay);
}

gboolean
lay_try_shake_out(Lay *lay, int who)
{
    double open_until = lay->floor->hours - lay->floor->closing;
    int best = -1;
    for (guint i = 0; i < lay->cooling->len; i++) {
        int index = g_array_index(lay->cooling, int, i);
        const LayMould *mould = &lay->moulds[index];
        if (mould->cooled > lay->now || (best >= 0 && lay->moulds[best].cooled <= mould->cooled))
            continue;
        double duration = lay->floor->kinds[mould->kind].shake_out, end = lay->now + duration;
        gboolean wanted = lay->shake ? lay->shake[index]
                                     : end <= open_until || is_needed(lay, mould);
        if (session_floor_pin(lay->floor, TASK_SHAKE_OUT, index + 1) > lay->now || !wanted ||
            !lay_is_light(lay, lay->now, end) || lay_is_awaited(lay, who, duration))
            continue;
        best = index;
    }
    if (best < 0)
        return FALSE;
    const LayMould *mould = &lay->moulds[best];
    lay_begin_shake_out(lay, best, who, lay->now,
                        lay->now + lay->floor->kinds[mould->kind].shake_out);
    return TRUE;
}
