// SPDX-License-Identifier: GPL-3.0-or-later
// Closer arrangements than plain rows, the quick ones first; each is tried only while bounds leave
// it open whether more fit.
#include "mould/closer.h"

#include <math.h>

#include "mould/alternate.h"
#include "mould/beside.h"
#include "mould/build.h"
#include "mould/nest.h"
#include "mould/rest-shape.h"
#include "solid/outline.h"

#define STARTS 8       // of the nesting, for each number of few castings
#define START_WORK 300 // of many: pairs of castings in all starts, so that a plan stays quick
#define SPARE 1.02

void
mould_closer_free(MouldCloser *closer)
{
    if (!closer)
        return;
    g_array_unref(closer->spots);
    g_free(closer);
}

SolidOutline *
mould_closer_outline(const MouldFixed *fixed, gboolean within)
{
    MouldBeside beside = mould_place_beside(&fixed->wish);
    return mould_beside_outline(fixed->shadow, &beside, within);
}

MouldBoundTask
mould_closer_bound(const MouldFixed *fixed, const SolidOutline *outline)
{
    const MouldWish *w = &fixed->wish;
    MouldBoundTask task = {.round = w->round,
                           .length = w->length - 2 * w->cover_wall,
                           .width = w->width - 2 * w->cover_wall,
                           .clearance = w->cover_between,
                           .outline = outline};
    if (task.round)
        task.width = task.length;
    return task;
}

// By discs in the castings and by area.
static guint
quick_bound(const MouldFixed *fixed)
{
    g_autoptr(SolidOutline) outline = mould_closer_outline(fixed, TRUE);
    MouldBoundTask t = mould_closer_bound(fixed, outline);
    double each = mould_bound_grown(outline, t.clearance / 2);
    double a = t.length + t.clearance, b = t.width + t.clearance;
    double area = each > 0 ? (t.round ? G_PI / 4 * a * a : a * b) / each : PLACEMENT_MOST;
    double discs = mould_bound_discs(&t, mould_bound_inscribed(fixed->shadow));
    return (guint)CLAMP(fmin(area, discs) + 1e-6, 0, PLACEMENT_MOST);
}

static void
take(MouldCloser **best, GArray *spots, int axis, double x, double y, MouldKept kept)
{
    mould_closer_free(*best);
    *best = g_new0(MouldCloser, 1);
    **best = (MouldCloser){g_array_ref(spots), axis, x, y, kept};
}

// Takes out the cavities without which most gates reach, until all do.
static void
drop_unfed(const MouldFixed *fixed, GArray *spots, int axis, double x, double y)
{
    MouldPour pour;
    while (spots->len > 1) {
        g_autoptr(MouldLayout) all = mould_rest_build(fixed, spots, axis, x, y, &pour);
        if (all->gates_missing == 0)
            return;
        guint best = 0, least = G_MAXUINT;
        for (guint i = 0; i < spots->len; i++) {
            g_autoptr(GArray) without = g_array_copy(spots);
            g_array_remove_index(without, i);
            g_autoptr(MouldLayout) l = mould_rest_build(fixed, without, axis, x, y, &pour);
            if (l->gates_missing >= least)
                continue;
            least = l->gates_missing;
            best = i;
        }
        g_array_remove_index(spots, best);
    }
}

static gboolean
has_hot(const MouldWish *w)
{
    gboolean hot = FALSE;
    for (int i = 0; i < w->n_stances; i++)
        hot |= w->stances[i].hot;
    return hot;
}

// Where rows bring every gate into its riser, what would be fed past it is taken out.
static void
drop_cold(const MouldFixed *fixed, GArray *spots, int axis, double v)
{
    gboolean hot = has_hot(&fixed->wish);
    for (guint i = spots->len; i > 0 && hot; i--) {
        const PlacementSpot *p = &g_array_index(spots, PlacementSpot, i - 1);
        int side = (axis ? -p->x : p->y) < v ? -1 : 1;
        if (!rest_shape_seen(fixed, p, (RestSide){axis, side, v}).stance.hot)
            g_array_remove_index(spots, i - 1);
    }
}

// Can two castings stand one behind the other on the wider side of a runner at `v`? Where they
// cannot, rows at every angle do as well as a nesting.
static gboolean
has_tiers(const MouldFixed *fixed, int axis, double v, double half)
{
    const MouldWish *w = &fixed->wish;
    double wide = w->round || axis ? w->length : w->width, least = INFINITY;
    for (int i = 0; i < w->n_stances; i++)
        if (!w->stances[i].barred)
            least = fmin(least, w->stances[i].front + w->stances[i].back);
    double deep = wide / 2 + fabs(v) - mould_place_share(&fixed->wish) - half;
    return deep >= 2 * (least + w->cover_between);
}

// How many fit at both sides of a runner `half` the width of 2: each stands at one side of it.
static guint
bound_beside(const MouldFixed *fixed, const SolidOutline *outline, int axis, double v, double half,
             guint enough, const Progress *progress)
{
    MouldBoundTask t = mould_closer_bound(fixed, outline);
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

// A runner right through the flask, and castings at any angle beside it: more than `known`.
static GArray *
nest_beside(const MouldFixed *fixed, const SolidOutline *outline, int axis, double v, double half,
            guint known, guint most, const Progress *progress)
{
    const MouldWish *w = &fixed->wish;
    double share = mould_place_share(&fixed->wish), reach = fmax(w->length, w->width) / 2;
    double margin = rest_shape_margin(fixed);
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
                          .outlines = {outline},
                          .share = {1, 0},
                          .obstacles = obstacles,
                          .n_obstacles = 1,
                          .most = most,
                          .starts = CLAMP(START_WORK / ((known + 1) * (known + 1)), 1, STARTS)};
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

// Room for the gating of so many.
static MouldKept
keep_for(const MouldWish *w, guint n, MouldKept least)
{
    MouldPour pour = mould_pour_sizes(w, n * w->cavity_volume, (int)n, 2, fmin(w->box_x, w->box_y));
    MouldKept kept = mould_kept_of(NULL, &pour, SPARE);
    return (MouldKept){fmax(kept.runner, least.runner), fmax(kept.sprue, least.sprue)};
}

static void
try_nest(const MouldFixed *fixed, guint least, double sprue_x, double sprue_y, MouldKept keep,
         MouldCloser **best, const Progress *progress)
{
    const MouldWish *w = &fixed->wish;
    // A riser in the gate stands where the gate comes from, which a nesting does not know.
    if (w->riser_diameter > 0)
        return;
    g_autoptr(SolidOutline) outline = mould_closer_outline(fixed, FALSE);
    for (int axis = 0; axis < 2; axis++) {
        guint known = *best ? (*best)->spots->len : least;
        double given = axis ? -sprue_x : sprue_y, v = isnan(given) ? 0 : given;
        double x = isnan(sprue_x) && axis ? -v : sprue_x, y = isnan(sprue_y) && !axis ? v : sprue_y;
        MouldPour pour;
        double half = keep_for(w, known + 1, keep).sprue;
        // Castings keep the sand between them from the bar that stands for the gating.
        double bar = fmax(0, half + w->cover_runner - w->cover_between);
        if (w->own.beside && !has_tiers(fixed, axis, v, bar))
            continue;
        guint bound = bound_beside(fixed, outline, axis, v, bar, known, progress);
        if (w->most > 0)
            bound = MIN(bound, (guint)w->most);
        if (bound <= known)
            continue;
        g_autoptr(GArray) spots = nest_beside(fixed, outline, axis, v, bar, known, bound, progress);
        drop_cold(fixed, spots, axis, v);
        if (spots->len <= known)
            continue;
        drop_unfed(fixed, spots, axis, x, y);
        g_autoptr(MouldLayout) l = spots->len > known
                                       ? mould_rest_build(fixed, spots, axis, x, y, &pour)
                                       : NULL;
        // The gating has to be no larger than it was thought to be.
        MouldKept kept = {half, half};
        if (l && l->gates_missing == 0 && mould_kept_holds(&kept, l, &pour))
            take(best, spots, axis, x, y, kept);
    }
}

MouldCloser *
mould_closer_find(const MouldFixed *fixed, guint least, int axis, double sprue_x, double sprue_y,
                  MouldKept keep, const Progress *progress)
{
    g_return_val_if_fail(fixed != NULL, NULL);
    const MouldWish *w = &fixed->wish;
    MouldCloser *best = NULL;
    double x = NAN, y = NAN;
    g_autoptr(GArray) pairs = mould_alternate_search(fixed, least, &axis, &x, &y);
    if (pairs)
        take(&best, pairs, axis, isnan(sprue_x) ? x : sprue_x, isnan(sprue_y) ? y : sprue_y,
             (MouldKept){NAN, NAN});
    guint known = best ? best->spots->len : least, most = quick_bound(fixed);
    if (w->most > 0)
        most = MIN(most, (guint)w->most);
    // A runner through a sprue that was put somewhere needs rows of its own.
    gboolean put = !isnan(sprue_x) || !isnan(sprue_y);
    if ((known >= most && !(put && !best)) || progress_stopped(progress))
        return best;
    MouldRestTask task = {.fixed = fixed,
                          .most = (guint)w->most,
                          .sprue_x = sprue_x,
                          .sprue_y = sprue_y,
                          .axis = -1,
                          .least = keep_for(w, known + 1, keep)};
    g_autoptr(MouldRest) rest = mould_rest_place(&task, progress);
    guint fewest = put && !best ? known : known + 1;
    if (rest && rest->spots->len >= fewest && rest->missing == 0)
        take(&best, rest->spots, rest->axis, rest->sprue_x, rest->sprue_y, rest->kept);
    if (known < most)
        try_nest(fixed, least, sprue_x, sprue_y, keep, &best, progress);
    return best;
}
