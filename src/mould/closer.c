// SPDX-License-Identifier: GPL-3.0-or-later
// Closer arrangements than plain rows, the quick ones first; each is tried only while bounds leave
// it open whether more fit.
#include "mould/closer.h"

#include <math.h>

#include "mould/alternate.h"
#include "mould/build.h"
#include "mould/nest.h"
#include "mould/rest-row.h"
#include "solid/outline.h"

#define STARTS 8 // of the nesting, for each number
#define SPARE 1.02

void
mould_closer_free(MouldCloser *closer)
{
    if (!closer)
        return;
    g_array_unref(closer->spots);
    g_free(closer);
}

MouldBoundTask
mould_closer_bound(const MouldFixed *fixed)
{
    const MouldWish *w = &fixed->wish;
    MouldBoundTask task = {w->round, w->length - 2 * w->cover_wall, w->width - 2 * w->cover_wall,
                           w->cover_between, fixed->shadow};
    if (task.round)
        task.width = task.length;
    return task;
}

guint
mould_closer_quick_bound(const MouldFixed *fixed, double *radius)
{
    MouldBoundTask t = mould_closer_bound(fixed);
    double disc = mould_bound_inscribed(fixed->shadow);
    double each = sqrt(solid_outline_area(fixed->shadow)) + t.clearance / 2 * sqrt(G_PI);
    double a = t.length + t.clearance, b = t.width + t.clearance;
    double area = (t.round ? G_PI / 4 * a * a : a * b) / (each * each);
    if (radius)
        *radius = disc;
    return (guint)CLAMP(fmin(area, mould_bound_discs(&t, disc)) + 1e-6, 0, PLACEMENT_MOST);
}

static void
take(MouldCloser **best, GArray *spots, int axis, double x, double y, double half)
{
    mould_closer_free(*best);
    *best = g_new0(MouldCloser, 1);
    **best = (MouldCloser){g_array_ref(spots), axis, x, y, half};
}

static MouldLayout *
build(const MouldFixed *fixed, const GArray *spots, int axis, double x, double y, MouldPour *pour)
{
    MouldLayout *l = mould_layout_new();
    l->length = fixed->wish.length;
    l->width = fixed->wish.width;
    mould_fixed_build(l, fixed, (const PlacementSpot *)(gconstpointer)spots->data, spots->len, x, y,
                      axis, pour);
    return l;
}

// Takes out the cavities without which most gates reach, until all do.
static void
drop_unfed(const MouldFixed *fixed, GArray *spots, int axis, double x, double y)
{
    MouldPour pour;
    while (spots->len > 1) {
        g_autoptr(MouldLayout) all = build(fixed, spots, axis, x, y, &pour);
        if (all->gates_missing == 0)
            return;
        guint best = 0, least = G_MAXUINT;
        for (guint i = 0; i < spots->len; i++) {
            g_autoptr(GArray) without = g_array_copy(spots);
            g_array_remove_index(without, i);
            g_autoptr(MouldLayout) l = build(fixed, without, axis, x, y, &pour);
            if (l->gates_missing >= least)
                continue;
            least = l->gates_missing;
            best = i;
        }
        g_array_remove_index(spots, best);
    }
}

// How many fit at both sides of a runner `half` the width of 2: each stands at one side of it.
static guint
bound_beside(const MouldFixed *fixed, int axis, double v, double half, guint enough,
             const Progress *progress)
{
    MouldBoundTask t = mould_closer_bound(fixed);
    if (t.round)
        return PLACEMENT_MOST;
    double wide = axis ? t.length : t.width, along = axis ? t.width : t.length, sum = 0;
    for (int side = -1; side <= 1; side += 2) {
        t.length = along;
        t.width = wide / 2 - side * v - half - t.clearance;
        double fit = t.width > 0 ? mould_bound_strips(&t, enough / 2, progress) : 0;
        if (side < 0 && v == 0)
            fit = 2 * floor(fit + 1e-6);
        sum += floor(fit + 1e-6);
        if (v == 0)
            break;
    }
    return (guint)CLAMP(sum, 0, PLACEMENT_MOST);
}

// A runner right through the flask, and castings at any angle beside it.
static GArray *
nest_beside(const MouldFixed *fixed, int axis, double v, double half, guint most,
            const Progress *progress)
{
    const MouldWish *w = &fixed->wish;
    double share = w->cover_wall / cos(w->wall_draft) + w->above * tan(w->wall_draft);
    double reach = fmax(w->length, w->width) / 2, margin = rest_row_margin(fixed);
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    const double corners[4][2] = {
        {-reach, v - half}, {reach, v - half}, {reach, v + half}, {-reach, v + half}};
    MouldWay way = {.axis = axis};
    guint first = 0;
    for (int i = 0; i < 4; i++) {
        SolidPoint p = mould_place_point(&way, corners[i][0], corners[i][1]);
        g_array_append_val(points, p);
    }
    g_array_append_val(starts, first);
    g_autoptr(SolidOutline) bar = solid_outline_take(points, starts);
    const SolidOutline *obstacles[1] = {bar};
    int n = w->n_stances;
    MouldNestTask task = {.round = w->round,
                          .length = w->length - 2 * (share + margin),
                          .width = w->width - 2 * (share + margin),
                          .clearance = w->cover_between + 2 * margin,
                          .angles = n > MOULD_QUARTERS ? 0 : MAX(1, n),
                          .outlines = {fixed->shadow},
                          .share = {1, 0},
                          .obstacles = obstacles,
                          .n_obstacles = 1,
                          .most = most,
                          .starts = STARTS};
    // The search itself only looks whether it is stopped.
    g_autoptr(MouldNestResult) found = progress_stopped(progress) ? NULL
                                                                  : mould_nest(&task, NULL, NULL);
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    for (guint i = 0; found && i < found->spots->len; i++) {
        const MouldNestSpot *s = &g_array_index(found->spots, MouldNestSpot, i);
        PlacementSpot spot = {s->x, s->y, remainder(s->turn, 2 * G_PI), FALSE};
        g_array_append_val(spots, spot);
    }
    return spots;
}

static void
try_nest(const MouldFixed *fixed, guint least, double sprue_x, double sprue_y, double least_half,
         MouldCloser **best, const Progress *progress)
{
    const MouldWish *w = &fixed->wish;
    // A riser beside the casting goes where its gate comes from, which a nesting does not know.
    if (w->riser_diameter > 0)
        return;
    for (int axis = 0; axis < 2; axis++) {
        guint known = *best ? (*best)->spots->len : least;
        double given = axis ? -sprue_x : sprue_y, v = isnan(given) ? 0 : given;
        double x = isnan(sprue_x) && axis ? -v : sprue_x, y = isnan(sprue_y) && !axis ? v : sprue_y;
        MouldPour pour = mould_pour_sizes(w, (known + 1) * w->cavity_volume, (int)known + 1, 2,
                                          fmin(w->box_x, w->box_y));
        double half = SPARE * fmax(pour.runner, fmax(pour.well, pour.sprue_top)) / 2;
        half = fmax(half, least_half);
        guint bound = bound_beside(fixed, axis, v, half, known, progress);
        if (w->most > 0)
            bound = MIN(bound, (guint)w->most);
        if (bound <= known)
            continue;
        g_autoptr(GArray) spots = nest_beside(fixed, axis, v, half, bound, progress);
        if (spots->len <= known)
            continue;
        drop_unfed(fixed, spots, axis, x, y);
        g_autoptr(MouldLayout) l = spots->len > known ? build(fixed, spots, axis, x, y, &pour)
                                                      : NULL;
        // The gating has to be no larger than it was thought to be.
        if (l && l->gates_missing == 0 &&
            fmax(pour.runner, fmax(pour.well, pour.sprue_top)) / 2 <= half)
            take(best, spots, axis, x, y, half);
    }
}

MouldCloser *
mould_closer_find(const MouldFixed *fixed, guint least, int axis, double sprue_x, double sprue_y,
                  double least_half, const Progress *progress)
{
    g_return_val_if_fail(fixed != NULL, NULL);
    const MouldWish *w = &fixed->wish;
    MouldCloser *best = NULL;
    double x = NAN, y = NAN;
    g_autoptr(GArray) pairs = mould_alternate_search(fixed, least, &axis, &x, &y);
    if (pairs)
        take(&best, pairs, axis, isnan(sprue_x) ? x : sprue_x, isnan(sprue_y) ? y : sprue_y, NAN);
    guint known = best ? best->spots->len : least, most = mould_closer_quick_bound(fixed, NULL);
    if (w->most > 0)
        most = MIN(most, (guint)w->most);
    // What follows does not know risers that stand at a place of their own beside the castings.
    if (known >= most || w->own.beside || progress_stopped(progress))
        return best;
    MouldRestTask task = {
        .fixed = fixed, .most = (guint)w->most, .sprue_x = sprue_x, .sprue_y = sprue_y, .axis = -1};
    g_autoptr(MouldRest) rest = mould_rest_place(&task, progress);
    if (rest && rest->spots->len > known && rest->missing == 0)
        take(&best, rest->spots, rest->axis, rest->sprue_x, rest->sprue_y, rest->half);
    try_nest(fixed, least, sprue_x, sprue_y, least_half, &best, progress);
    return best;
}
