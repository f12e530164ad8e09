// SPDX-License-Identifier: GPL-3.0-or-later
// Rows first, sized by filling them; then rows of alternating castings, or a person's own places,
// sized the same way.
#include "mould/arrange.h"

#include <math.h>

#include "mould/build.h"
#include "mould/closer.h"
#include "mould/cover.h"
#include "mould/mixed.h"
#include "mould/rest.h"
#include "mould/room.h"

#define NEARLY_SAND 2e-6 // m
#define MOST_GROWN 3     // times the gating may turn out larger than it was thought to be
#define SPARE 1.02
#define MOST_CORNERS 4000

void
mould_work_clear(MouldWork *w)
{
    g_clear_pointer(&w->layout, mould_layout_unref);
    g_clear_pointer(&w->level, mould_level_free);
    g_clear_pointer(&w->guest_level, mould_level_free);
}

// How a cavity fills, from the voxels of the pattern.
static MouldLevel *
make_level(const PatternResult *pattern, const MouldWish *wish, double growth)
{
    MouldLevel *level = NULL;
    if (pattern->casting)
        level = mould_level_grid(pattern->casting, growth, -wish->below, wish->above,
                                 wish->cavity_volume);
    if (!level)
        level = mould_level_prism(wish->cavity_volume / (wish->above + wish->below), -wish->below,
                                  wish->above);
    return level;
}

static MouldFit
make_fit(const MouldWork *w, const Inputs *inputs, const Progress *progress)
{
    gboolean gates = w->wish.gate_width > 0 && w->wish.gate_depth > 0;
    return (MouldFit){.cavity = w->level,
                      .guest = w->guest_level,
                      .spread = inputs_number(inputs, "job.gate_spread"),
                      .wide = inputs_is_blank(inputs, "job.runner_ratio") && !(w->wish.runner > 0),
                      .narrow = inputs_is_blank(inputs, "job.gate_ratio") && !gates,
                      .progress = progress};
}

// The skin's facets need not keep to the field's outline: how far the furthest of a few thousand
// corners near the parting, where it is widest, lies outside.
static double
find_out(const PatternResult *pattern, double growth, const SolidOutline *shadow)
{
    const SolidMesh *mesh = pattern->mesh;
    double near = pattern->casting ? 2 * pattern->casting->cell : INFINITY, out = 0;
    g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    for (guint32 i = 0; mesh && i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        SolidPoint p = {v.x * growth, v.y * growth};
        if (fabs(v.z) <= near)
            g_array_append_val(points, p);
    }
    guint every = 1 + points->len / MOST_CORNERS;
#pragma omp parallel for schedule(static) reduction(max : out)
    for (guint i = 0; i < points->len; i += every) {
        double depth = mould_bound_depth(shadow, g_array_index(points, SolidPoint, i));
        out = depth < -out ? -depth : out;
    }
    return out;
}

static MouldFixed *
make_fixed(const MouldWish *wish, const PatternResult *pattern, double growth)
{
    const SolidOutline *shadow = pattern->shadow, *skin = pattern->parting_outline;
    if (!shadow || shadow->n_points == 0)
        shadow = skin;
    if (!skin || skin->n_points == 0)
        skin = shadow;
    if (!shadow || shadow->n_points == 0)
        return NULL;
    g_autoptr(SolidOutline) all = mould_stance_scaled(shadow, growth);
    g_autoptr(SolidOutline) parting = mould_stance_scaled(skin, growth);
    MouldFixed *fixed = mould_fixed_new(wish, all, parting);
    fixed->out = find_out(pattern, growth, all);
    return fixed;
}

static MouldFixed *
make_both(const MouldWork *w, const PatternResult *pattern)
{
    MouldFixed *fixed = make_fixed(&w->wish, pattern, w->layout->growth);
    if (fixed && w->guest) {
        MouldFixed *guest = make_fixed(&w->guest_wish, w->guest->pattern, w->guest->growth);
        mould_fixed_set_guest(fixed, guest);
    }
    return fixed;
}

static void
clear_shapes(MouldLayout *l)
{
    g_clear_pointer(&l->cavities, g_free);
    g_clear_pointer(&l->gates, g_free);
    g_clear_pointer(&l->runners, g_free);
    l->n_cavities = l->n_gates = l->n_runners = l->n_guests = 0;
    l->gates_missing = l->gates_at_well = 0;
    l->by_hand = FALSE;
}

// Cavities at given places: the gating drawn to them, and its sizes fitted.
static void
build_placed(MouldWork *w, const Inputs *inputs, const MouldSpots *spots, const Progress *progress)
{
    MouldLayout *l = w->layout;
    MouldFit fit = make_fit(w, inputs, progress);
    w->has_better = FALSE;
    mould_fit_placed(&fit, &l->fixed, spots, &w->place.pour);
    w->wish = l->fixed->wish;
    clear_shapes(l);
    mould_fixed_build(l, l->fixed, spots->spot, spots->n, spots->sprue_x, spots->sprue_y,
                      spots->axis, &w->place.pour);
    w->fits = TRUE;
}

static void
build_rows(MouldWork *w, const Inputs *inputs, const PatternResult *pattern,
           const Progress *progress)
{
    clear_shapes(w->layout);
    w->fits = mould_place_search(&w->wish, &w->way, &w->place);
    if (!w->fits)
        return;
    MouldFit fit = make_fit(w, inputs, progress);
    MouldPlace better;
    if (!mould_fit_sizes(&fit, &w->wish, &w->way, &w->place)) {
        w->has_better = mould_fit_suggest(&fit, &w->wish, &w->way, &better);
        w->better = better.pour;
    }
    mould_build(w->layout, &w->wish, &w->way, &w->place);
    mould_fixed_unref(w->layout->fixed);
    w->layout->fixed = make_both(w, pattern);
}

static GArray *
spots_of(const MouldLayout *l)
{
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        PlacementSpot spot = {c->x, c->y, c->turn, FALSE};
        g_array_append_val(spots, spot);
    }
    return spots;
}

static MouldSpots
spots_in(const MouldRest *rest)
{
    return (MouldSpots){(const PlacementSpot *)(gconstpointer)rest->spots->data, rest->spots->len,
                        rest->sprue_x, rest->sprue_y, rest->axis};
}

// Does all the sand that is asked for stand in a layout of the spots, beside the tabs too, and does
// every gate reach? The wish asks for more where risers reach out over their castings, but here
// risers are measured themselves.
static gboolean
holds_sand(const MouldWork *w, const PatternResult *pattern, const MouldSpots *spots)
{
    const MouldLayout *l = w->layout;
    g_autoptr(MouldBody) body = mould_body_of(pattern, l->growth, NULL, NULL);
    if (!body)
        return FALSE;
    g_autoptr(MouldLayout) tried = mould_layout_new();
    MouldPour pour;
    mould_layout_take_flask(tried, l);
    mould_fixed_build(tried, l->fixed, spots->spot, spots->n, spots->sprue_x, spots->sprue_y,
                      spots->axis, &pour);
    mould_cover_measure(tried, body, NULL);
    const MouldWish *asked = &w->wish;
    const SolidOutline *outline = pattern->shadow ? pattern->shadow : pattern->parting_outline;
    if (tried->n_tabs > 0 && mould_tab_room(tried, outline) < MOULD_TAB_ROOM)
        return FALSE;
    return tried->gates_missing == 0 && !(tried->cover_wall < asked->asked_wall - NEARLY_SAND) &&
           !(tried->cover_between < asked->asked_between - NEARLY_SAND) &&
           !(tried->cover_sprue < asked->asked_runner - NEARLY_SAND) &&
           !(tried->cover_runner < asked->asked_runner - NEARLY_SAND);
}

// The program's own rows on a runner through a sprue that has its place.
static void
build_on_sprue(MouldWork *w, const Inputs *inputs, double x, double y, const Progress *progress)
{
    g_autoptr(GArray) own = spots_of(w->layout);
    // The way's columns need not stand evenly about the sprue.
    w->way = (MouldWay){.axis = w->way.axis, .rows = 1, .columns = 1};
    MouldSpots spots = {(const PlacementSpot *)(gconstpointer)own->data, own->len, x, y,
                        w->way.axis};
    build_placed(w, inputs, &spots, progress);
    w->layout->by_hand = FALSE;
}

// `kept` is the room to keep for the gating, and what that takes in the end. FALSE when the gating
// has grown into the cavities.
static gboolean
build_closer(MouldWork *w, const Inputs *inputs, const MouldCloser *closer, MouldKept *kept,
             const Progress *progress)
{
    MouldSpots spots = {(const PlacementSpot *)(gconstpointer)closer->spots->data,
                        closer->spots->len, closer->sprue_x, closer->sprue_y, closer->axis};
    w->way = (MouldWay){.axis = closer->axis, .rows = 1, .columns = 1};
    build_placed(w, inputs, &spots, progress);
    w->layout->by_hand = FALSE;
    *kept = mould_kept_of(w->layout, &w->place.pour, SPARE);
    return isnan(closer->kept.runner) || mould_kept_holds(&closer->kept, w->layout, &w->place.pour);
}

// Rows, or what stands closer if that keeps its sand.
static void
build_best(MouldWork *w, const Inputs *inputs, const PatternResult *pattern, double x, double y,
           const Progress *progress)
{
    MouldKept kept = {0, 0};
    MouldWish wish = w->wish;
    gboolean rows = FALSE;
    for (int round = 0; round < MOST_GROWN && !rows; round++) {
        w->wish = wish;
        build_rows(w, inputs, pattern, progress);
        if (!w->layout->fixed)
            return;
        g_autoptr(MouldCloser) closer = mould_closer_find(w->layout->fixed, w->layout->n_cavities,
                                                          w->way.axis, x, y, kept, progress);
        rows = !closer;
        if (rows || !build_closer(w, inputs, closer, &kept, progress))
            continue;
        MouldSpots spots = {(const PlacementSpot *)(gconstpointer)closer->spots->data,
                            closer->spots->len, closer->sprue_x, closer->sprue_y, closer->axis};
        if (isnan(closer->kept.runner) || holds_sand(w, pattern, &spots))
            return;
        break;
    }
    if (!rows) {
        w->wish = wish;
        build_rows(w, inputs, pattern, progress);
    }
    if (w->fits && (!isnan(x) || !isnan(y)))
        build_on_sprue(w, inputs, x, y, progress);
}

// The rest round locked ones: by their boxes where two jobs share the flask, or by their outlines
// if those hold more.
static MouldRest *
place_rest(const MouldRestTask *task, gboolean outlines, const Progress *progress)
{
    MouldRest *rest = mould_rest_place(task, progress);
    MouldRest *mixed = outlines ? mould_mixed_place(task, rest, progress) : NULL;
    if (!mixed)
        return rest;
    mould_rest_free(rest);
    return mixed;
}

// Locked ones stay, the rest are placed anew; as they were where no more are found that way.
static void
build_rest(MouldWork *w, const Inputs *inputs, const PatternResult *pattern, const GArray *before,
           double x, double y, const Progress *progress)
{
    MouldLayout *l = w->layout;
    g_autoptr(GArray) locked = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    for (guint i = 0; i < before->len; i++)
        if (g_array_index(before, PlacementSpot, i).locked)
            g_array_append_val(locked, g_array_index(before, PlacementSpot, i));
    MouldSpots old = {(const PlacementSpot *)(gconstpointer)before->data, before->len, x, y, -1};
    MouldRestTask task = {.fixed = l->fixed,
                          .locked = (const PlacementSpot *)(gconstpointer)locked->data,
                          .n_locked = locked->len,
                          .most = (guint)w->wish.most,
                          .sprue_x = x,
                          .sprue_y = y,
                          .axis = -1,
                          .guests = w->guests,
                          .wanted = {w->wanted[0], w->wanted[1]}};
    gboolean outlines = l->fixed->guest != NULL;
    for (int round = 0; round < MOST_GROWN; round++) {
        g_autoptr(MouldRest) rest = place_rest(&task, outlines, progress);
        MouldSpots put = {task.locked, task.n_locked, x, y, -1};
        if (rest)
            put = spots_in(rest);
        gboolean few = w->wish.most == 0 || old.n <= (guint)w->wish.most;
        if (old.n > put.n && few && holds_sand(w, pattern, &old))
            put = old;
        if (put.n == 0)
            return;
        build_placed(w, inputs, &put, progress);
        task.fixed = l->fixed;
        task.least = mould_kept_of(w->layout, &w->place.pour, SPARE);
        gboolean held = !rest || put.n != rest->spots->len ||
                        mould_kept_holds(&rest->kept, w->layout, &w->place.pour);
        if (held && (!outlines || holds_sand(w, pattern, &put)))
            return;
        // Boxes where outlines leave too little sand, and in the last round.
        outlines = outlines && !held && round + 2 < MOST_GROWN;
    }
}

// Castings of both jobs as placed. FALSE when the gating takes more room than was kept for it: the
// task then asks for that room.
static gboolean
build_mixture(MouldWork *w, const Inputs *inputs, const MouldRest *rest, MouldRestTask *task,
              const Progress *progress)
{
    MouldSpots put = spots_in(rest);
    w->way = (MouldWay){.axis = rest->axis, .rows = 1, .columns = 1};
    build_placed(w, inputs, &put, progress);
    w->layout->by_hand = FALSE;
    task->fixed = w->layout->fixed;
    task->least = mould_kept_of(w->layout, &w->place.pour, SPARE);
    return mould_kept_holds(&rest->kept, w->layout, &w->place.pour);
}

static MouldRest *
place_boxes(const MouldRestTask *task, const Progress *progress)
{
    MouldRest *rest = mould_rest_place(task, progress);
    if (rest && rest->missing > 0)
        g_clear_pointer(&rest, mould_rest_free);
    return rest;
}

// By their outlines. FALSE when that holds no more than `boxes`, or sand would be missing.
static gboolean
build_outlines(MouldWork *w, const Inputs *inputs, const PatternResult *pattern,
               const MouldRest *boxes, MouldRestTask task, const Progress *progress)
{
    for (int round = 0; round < MOST_GROWN; round++) {
        g_autoptr(MouldRest) other = round > 0 ? place_boxes(&task, progress) : NULL;
        g_autoptr(MouldRest) mixed = mould_mixed_place(&task, round > 0 ? other : boxes, progress);
        if (!mixed)
            return FALSE;
        if (!build_mixture(w, inputs, mixed, &task, progress))
            continue;
        MouldSpots put = spots_in(mixed);
        return holds_sand(w, pattern, &put);
    }
    return FALSE;
}

// By their boxes, first as in `rest`, which it takes.
static void
build_boxes(MouldWork *w, const Inputs *inputs, MouldRest *rest, MouldRestTask task,
            const Progress *progress)
{
    for (int round = 0; rest && round < MOST_GROWN; round++) {
        gboolean holds = build_mixture(w, inputs, rest, &task, progress);
        mould_rest_free(rest);
        rest = holds ? NULL : place_boxes(&task, progress);
    }
    mould_rest_free(rest);
}

// Castings of both jobs: by their outlines, or by their boxes with gating that is fitted anew.
// FALSE when there is no room for one of each.
static gboolean
build_shared(MouldWork *w, const Inputs *inputs, const PatternResult *pattern, double x, double y,
             const Progress *progress)
{
    MouldLayout *l = w->layout;
    MouldWish wish = w->wish;
    g_autoptr(MouldFixed) fixed = mould_fixed_ref(l->fixed);
    MouldRestTask task = {.fixed = fixed,
                          .most = (guint)w->wish.most,
                          .sprue_x = x,
                          .sprue_y = y,
                          .axis = -1,
                          .guests = w->guests,
                          .wanted = {w->wanted[0], w->wanted[1]}};
    MouldRest *boxes = place_boxes(&task, progress);
    if (build_outlines(w, inputs, pattern, boxes, task, progress)) {
        mould_rest_free(boxes);
        return TRUE;
    }
    w->wish = wish;
    mould_fixed_unref(l->fixed);
    l->fixed = mould_fixed_ref(fixed);
    gboolean any = boxes != NULL;
    build_boxes(w, inputs, boxes, task, progress);
    return any;
}

// What the text says, without guests where there are none.
static GArray *
read_spots(const MouldWork *w, const char *text, const UnitSet *units)
{
    GArray *spots = text ? placement_read(text, units, NULL) : NULL;
    for (guint i = spots ? spots->len : 0; i > 0 && !w->guest; i--)
        if (g_array_index(spots, PlacementSpot, i - 1).guest)
            g_array_remove_index(spots, i - 1);
    return spots;
}

void
mould_arrange(MouldWork *w, const Inputs *inputs, const PatternResult *pattern,
              const Progress *progress)
{
    UnitSet units = inputs_units(inputs);
    const char *text = inputs_text(inputs, "job.placement");
    double x = inputs_number(inputs, "job.sprue_x"), y = inputs_number(inputs, "job.sprue_y");
    g_autoptr(GArray) spots = read_spots(w, text, &units);
    MouldLayout *l = w->layout;
    gboolean rest = spots && placement_rest(text), any_locked = FALSE;
    for (guint i = 0; spots && i < spots->len; i++)
        any_locked |= g_array_index(spots, PlacementSpot, i).locked;
    w->wish.sprue_put = !isnan(x) || !isnan(y);
    // With nothing locked the rest is all.
    w->wish.by_hand = spots && spots->len > 0 && (!rest || any_locked);
    if (!mould_place_is_deep_enough(&w->wish) ||
        (w->guest && !mould_place_is_deep_enough(&w->guest_wish)))
        return;
    w->level = make_level(pattern, &w->wish, l->growth);
    if (w->guest)
        w->guest_level = make_level(w->guest->pattern, &w->guest_wish, w->guest->growth);
    l->fixed = make_both(w, pattern);
    if (w->wish.by_hand && l->fixed && rest) {
        build_rest(w, inputs, pattern, spots, x, y, progress);
        return;
    }
    if (w->wish.by_hand && l->fixed) {
        MouldSpots put = {(const PlacementSpot *)(gconstpointer)spots->data, spots->len, x, y, -1};
        build_placed(w, inputs, &put, progress);
        return;
    }
    if (w->guest && l->fixed && build_shared(w, inputs, pattern, x, y, progress)) {
        return;
    }
    if (w->guest) { // no room for both: this job's alone
        w->guest = NULL;
        w->alone.sprue_put = w->wish.sprue_put;
        w->wish = w->alone;
        mould_fixed_unref(l->fixed);
        l->fixed = make_both(w, pattern);
    }
    build_best(w, inputs, pattern, x, y, progress);
}
