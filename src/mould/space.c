// SPDX-License-Identifier: GPL-3.0-or-later
// Sand between all things of a flask: which gaps have to be measured, and which are known.
#include "mould/space.h"

#include <math.h>
#include <string.h>

#include "mould/gap.h"

#define SINGLE MOULD_COVER_BETWEEN // kinds before it are of one cavity
#define SAME 1e-9                  // m and rad, for poses that are the same
#define NOT_YET (-1.0)

typedef struct {
    MouldPose pose;
    MouldProp riser;
    gboolean has_riser, is_open, guest;
    const MouldBody *body; // borrowed
    FeedChill chill;       // thickness 0 without
    Vec3 low, high;        // box of both
    MouldGap single[SINGLE];
} Thing;

typedef struct {
    MouldGap gap;
    double bound; // m, at least so far apart, when not measured
    gboolean measured;
} Pair;

struct MouldSpace {
    const MouldBody *body, *guest_body; // the second may be NULL
    guint n, measured;
    Thing *things;
    Pair *pairs; // of i < j at pair_index()
    MouldWalls walls;
    MouldProp sprue[2]; // and well
    MouldProp *runners;
    guint n_runners;
    MouldGap least[MOULD_COVERS];
};

static gsize
pair_index(const MouldSpace *s, guint i, guint j)
{
    return (gsize)i * s->n + j;
}

static void
clear_space(gpointer data)
{
    MouldSpace *s = data;
    mould_body_unref(s->body);
    mould_body_unref(s->guest_body);
    g_free(s->things);
    g_free(s->pairs);
    g_free(s->runners);
}

MouldSpace *
mould_space_ref(const MouldSpace *space)
{
    return g_atomic_rc_box_acquire((gpointer)space);
}

void
mould_space_unref(const MouldSpace *space)
{
    if (space)
        g_atomic_rc_box_release_full((gpointer)space, clear_space);
}

static void
set_thing(const MouldLayout *l, const MouldBody *body, guint i, Thing *t)
{
    const MouldCavity *c = &l->cavities[i];
    const MouldRiser *riser = mould_layout_riser(l, i);
    t->pose = mould_pose(c->x, c->y, c->turn);
    t->guest = c->guest && l->guest_body;
    t->body = t->guest ? l->guest_body : body;
    mould_gap_box(t->body, &t->pose, &t->low, &t->high);
    t->chill = *mould_layout_chill(l, i);
    t->has_riser = mould_layout_has_riser(l, i);
    if (!t->has_riser)
        return;
    double r = riser->diameter / 2;
    t->riser = mould_prop_disc(c->riser_x, c->riser_y, 2 * r, riser->base,
                               riser->base + riser->height);
    t->is_open = riser->open;
    t->low.x = fmin(t->low.x, c->riser_x - r);
    t->low.y = fmin(t->low.y, c->riser_y - r);
    t->high.x = fmax(t->high.x, c->riser_x + r);
    t->high.y = fmax(t->high.y, c->riser_y + r);
    t->low.z = fmin(t->low.z, 0);
    t->high.z = fmax(t->high.z, t->riser.high);
}

static void
set_props(const MouldLayout *l, MouldSpace *s)
{
    s->walls = mould_walls_of(l);
    s->sprue[0] = mould_prop_disc(l->sprue_x, l->sprue_y, l->sprue_bottom_diameter, 0,
                                  l->sprue_height);
    s->sprue[0].high_radius = l->sprue_top_diameter / 2;
    s->sprue[1] = mould_prop_disc(l->sprue_x, l->sprue_y, l->well_diameter, -l->well_depth, 0);
    s->n_runners = l->n_runners;
    s->runners = g_new0(MouldProp, MAX(1, l->n_runners));
    for (guint i = 0; i < l->n_runners; i++) {
        double depth = l->runners[i].depth, low = l->gates_in_drag ? 0 : -depth;
        s->runners[i] = mould_prop_bar(&l->runners[i], low, low + depth);
    }
}

static void
take_less(MouldGap *best, double distance, Vec3 from, Vec3 to)
{
    if (best->distance <= distance)
        return;
    best->distance = distance;
    best->from = from;
    best->to = to;
}

static void
measure_to_prop(const MouldSpace *s, const Thing *t, const MouldProp *prop, MouldGap *best)
{
    Vec3 from, to;
    double d = mould_gap_prop(t->body, &t->pose, prop, &from, &to);
    take_less(best, d, from, to);
    if (!t->has_riser)
        return;
    d = mould_prop_distance(&t->riser, prop, &from, &to);
    take_less(best, d, from, to);
}

// A riser's round edge nearest to the wall: its lid's and its foot's, in the direction where the
// wall is nearest to its axis.
static void
measure_riser_to_walls(const MouldSpace *s, const Thing *t, MouldGap *best)
{
    for (int end = 0; end < 2; end++) {
        Vec3 axis = vec3(t->riser.x, t->riser.y, end ? t->riser.high : t->riser.low), wall, on;
        mould_walls_distance(&s->walls, axis, &wall);
        double dx = wall.x - axis.x, dy = wall.y - axis.y, length = hypot(dx, dy);
        double share = length > 0 ? t->riser.low_radius / length : 0;
        gboolean outside = mould_walls_distance(&s->walls, axis, NULL) < 0;
        on = vec3_add(axis, vec3_scale(vec3(dx, dy, 0), outside ? -share : share));
        double d = mould_walls_distance(&s->walls, on, &wall);
        take_less(best, d, on, wall);
    }
}

static void
measure_ends(const MouldSpace *s, Thing *t)
{
    Vec3 middle = vec3(t->pose.x, t->pose.y, t->body->max.z);
    take_less(&t->single[MOULD_COVER_TOP], s->walls.cope - middle.z, middle,
              vec3(middle.x, middle.y, s->walls.cope));
    if (t->has_riser && !t->is_open)
        take_less(&t->single[MOULD_COVER_TOP], s->walls.cope - t->riser.high,
                  vec3(t->riser.x, t->riser.y, t->riser.high),
                  vec3(t->riser.x, t->riser.y, s->walls.cope));
    middle.z = t->body->min.z;
    take_less(&t->single[MOULD_COVER_BOTTOM], middle.z + s->walls.drag, middle,
              vec3(middle.x, middle.y, -s->walls.drag));
    const FeedChill *chill = &t->chill;
    if (!(chill->thickness > 0))
        return;
    Vec3 at = mould_pose_out(&t->pose, vec3(chill->x, chill->y, chill->face));
    at.z += chill->in_cope ? chill->thickness : -chill->thickness;
    if (chill->in_cope)
        take_less(&t->single[MOULD_COVER_TOP], s->walls.cope - at.z, at,
                  vec3(at.x, at.y, s->walls.cope));
    else
        take_less(&t->single[MOULD_COVER_BOTTOM], at.z + s->walls.drag, at,
                  vec3(at.x, at.y, -s->walls.drag));
}

static gboolean
is_same_pose(const MouldPose *a, const MouldPose *b)
{
    return a->x == b->x && a->y == b->y && a->turn == b->turn;
}

static gboolean
is_same_prop(const MouldProp *a, const MouldProp *b)
{
    return a->kind == b->kind && a->x == b->x && a->y == b->y && a->low == b->low &&
           a->high == b->high && a->low_radius == b->low_radius &&
           a->high_radius == b->high_radius && a->cos == b->cos && a->sin == b->sin &&
           a->length == b->length && a->width == b->width;
}

static gboolean
is_same_thing(const Thing *a, const Thing *b)
{
    return is_same_pose(&a->pose, &b->pose) && a->guest == b->guest &&
           a->has_riser == b->has_riser && is_same_prop(&a->riser, &b->riser);
}

static gboolean
has_same_walls(const MouldWalls *a, const MouldWalls *b)
{
    return a->round == b->round && a->length == b->length && a->width == b->width &&
           a->draft == b->draft;
}

static gboolean
has_same_runners(const MouldSpace *a, const MouldSpace *b)
{
    if (a->n_runners != b->n_runners)
        return FALSE;
    for (guint i = 0; i < a->n_runners; i++)
        if (!is_same_prop(&a->runners[i], &b->runners[i]))
            return FALSE;
    return TRUE;
}

// Of a cavity against what is not a cavity.
static void
measure_single(MouldSpace *s, guint i, const MouldSpace *before)
{
    Thing *t = &s->things[i];
    const Thing *old = before && i < before->n ? &before->things[i] : NULL;
    if (old && !is_same_thing(old, t))
        old = NULL;
    for (int kind = 0; kind < SINGLE; kind++)
        t->single[kind] = (MouldGap){.distance = INFINITY, .cavity = i};
    measure_ends(s, t);
    if (old && has_same_walls(&before->walls, &s->walls)) {
        t->single[MOULD_COVER_WALL] = old->single[MOULD_COVER_WALL];
    } else {
        Vec3 from, to;
        double d = mould_gap_walls(t->body, &t->pose, &s->walls, &from, &to);
        take_less(&t->single[MOULD_COVER_WALL], d, from, to);
        if (t->has_riser)
            measure_riser_to_walls(s, t, &t->single[MOULD_COVER_WALL]);
        s->measured++;
    }
    if (old && is_same_prop(&before->sprue[0], &s->sprue[0]) &&
        is_same_prop(&before->sprue[1], &s->sprue[1])) {
        t->single[MOULD_COVER_SPRUE] = old->single[MOULD_COVER_SPRUE];
    } else {
        for (int k = 0; k < 2; k++)
            if (s->sprue[k].low_radius > 0)
                measure_to_prop(s, t, &s->sprue[k], &t->single[MOULD_COVER_SPRUE]);
        s->measured++;
    }
    if (old && has_same_runners(before, s)) {
        t->single[MOULD_COVER_RUNNER] = old->single[MOULD_COVER_RUNNER];
    } else {
        for (guint k = 0; k < s->n_runners; k++)
            measure_to_prop(s, t, &s->runners[k], &t->single[MOULD_COVER_RUNNER]);
        s->measured++;
    }
}

static double
box_distance(const Thing *a, const Thing *b)
{
    double dx = fmax(0, fmax(a->low.x - b->high.x, b->low.x - a->high.x));
    double dy = fmax(0, fmax(a->low.y - b->high.y, b->low.y - a->high.y));
    double dz = fmax(0, fmax(a->low.z - b->high.z, b->low.z - a->high.z));
    return sqrt(dx * dx + dy * dy + dz * dz);
}

static void
measure_pair(MouldSpace *s, guint i, guint j, Pair *pair)
{
    const Thing *a = &s->things[i], *b = &s->things[j];
    Vec3 from, to;
    pair->gap = (MouldGap){.distance = INFINITY, .cavity = i, .other = j};
    double d = mould_gap_bodies(a->body, &a->pose, b->body, &b->pose, &from, &to);
    take_less(&pair->gap, d, from, to);
    if (a->has_riser) {
        d = mould_gap_prop(b->body, &b->pose, &a->riser, &to, &from);
        take_less(&pair->gap, d, from, to);
    }
    if (b->has_riser) {
        d = mould_gap_prop(a->body, &a->pose, &b->riser, &from, &to);
        take_less(&pair->gap, d, from, to);
    }
    if (a->has_riser && b->has_riser) {
        d = mould_prop_distance(&a->riser, &b->riser, &from, &to);
        take_less(&pair->gap, d, from, to);
    }
    pair->measured = TRUE;
    s->measured++;
}

// Where b and the risers of both stand in a's axes.
static void
write_relation(const Thing *a, const Thing *b, double r[10])
{
    Vec3 at = mould_pose_back(&a->pose, vec3(b->pose.x, b->pose.y, 0));
    Vec3 mine = mould_pose_back(&a->pose, vec3(a->riser.x, a->riser.y, a->riser.high));
    Vec3 its = mould_pose_back(&a->pose, vec3(b->riser.x, b->riser.y, b->riser.high));
    double all[10] = {at.x,
                      at.y,
                      a->pose.cos * b->pose.cos + a->pose.sin * b->pose.sin,
                      a->pose.cos * b->pose.sin - a->pose.sin * b->pose.cos,
                      a->has_riser ? mine.x : 0,
                      a->has_riser ? mine.y : 0,
                      b->has_riser ? its.x : 0,
                      b->has_riser ? its.y : 0,
                      a->has_riser + 2.0 * b->has_riser,
                      a->guest + 2.0 * b->guest};
    memcpy(r, all, sizeof all);
}

static gboolean
is_like(const double *a, const double *b)
{
    for (int i = 0; i < 10; i++)
        if (fabs(a[i] - b[i]) > SAME)
            return FALSE;
    return TRUE;
}

// A pair measured here that stands just like this one, either way round.
static gboolean
copy_like(MouldSpace *s, guint i, guint j, Pair *pair, const guint *done, guint n_done)
{
    double wanted[10], turned[10], other[10];
    write_relation(&s->things[i], &s->things[j], wanted);
    write_relation(&s->things[j], &s->things[i], turned);
    for (guint k = 0; k < n_done; k++) {
        guint a = done[k] / s->n, b = done[k] % s->n;
        write_relation(&s->things[a], &s->things[b], other);
        gboolean same = is_like(wanted, other), swapped = !same && is_like(turned, other);
        if (!same && !swapped)
            continue;
        MouldGap gap = s->pairs[done[k]].gap;
        const MouldPose *from = &s->things[a].pose, *to = &s->things[same ? i : j].pose;
        Vec3 p = mould_pose_out(to, mould_pose_back(from, gap.from));
        Vec3 q = mould_pose_out(to, mould_pose_back(from, gap.to));
        pair->gap = (MouldGap){gap.distance, same ? p : q, same ? q : p, i, j};
        pair->measured = TRUE;
        return TRUE;
    }
    return FALSE;
}

static gboolean
take_before(const MouldSpace *s, const MouldSpace *before, guint i, guint j, Pair *pair)
{
    if (!before || i >= before->n || j >= before->n)
        return FALSE;
    const Pair *old = &before->pairs[pair_index(before, i, j)];
    if (!old->measured || !is_same_thing(&before->things[i], &s->things[i]) ||
        !is_same_thing(&before->things[j], &s->things[j]))
        return FALSE;
    *pair = *old;
    return TRUE;
}

typedef struct {
    double bound;
    guint at;
} Order;

static int
compare_order(const void *a, const void *b)
{
    const Order *p = a, *q = b;
    return p->bound != q->bound ? (p->bound > q->bound) - (p->bound < q->bound)
                                : (p->at > q->at) - (p->at < q->at);
}

// Nearest boxes first, until boxes are further apart than the least gap.
static void
measure_pairs(MouldSpace *s, const MouldSpace *before)
{
    gsize all = (gsize)s->n * s->n;
    s->pairs = g_new0(Pair, MAX(1, all));
    g_autofree Order *order = g_new(Order, MAX(1, all));
    g_autofree guint *done = g_new(guint, MAX(1, all));
    guint n = 0, n_done = 0;
    for (guint i = 0; i < s->n; i++)
        for (guint j = i + 1; j < s->n; j++) {
            guint at = (guint)pair_index(s, i, j);
            Pair *pair = &s->pairs[at];
            pair->bound = box_distance(&s->things[i], &s->things[j]);
            pair->gap = (MouldGap){.distance = pair->bound, .cavity = i, .other = j};
            order[n++] = (Order){pair->bound, at};
        }
    qsort(order, n, sizeof *order, compare_order);
    MouldGap *least = &s->least[MOULD_COVER_BETWEEN];
    for (guint k = 0; k < n && order[k].bound < least->distance; k++) {
        guint i = order[k].at / s->n, j = order[k].at % s->n;
        Pair *pair = &s->pairs[order[k].at];
        if (!take_before(s, before, i, j, pair) && !copy_like(s, i, j, pair, done, n_done))
            measure_pair(s, i, j, pair);
        done[n_done++] = order[k].at;
        if (pair->gap.distance < least->distance)
            *least = pair->gap;
    }
}

MouldSpace *
mould_space_measure(const MouldLayout *layout, const MouldBody *body, const MouldSpace *before)
{
    g_return_val_if_fail(layout != NULL && body != NULL, NULL);
    MouldSpace *s = g_atomic_rc_box_new0(MouldSpace);
    s->body = mould_body_ref(body);
    s->guest_body = layout->guest_body ? mould_body_ref(layout->guest_body) : NULL;
    if (before && (before->body != body || before->guest_body != s->guest_body))
        before = NULL;
    s->n = layout->n_cavities;
    s->things = g_new0(Thing, MAX(1, s->n));
    set_props(layout, s);
    for (int kind = 0; kind < MOULD_COVERS; kind++)
        s->least[kind].distance = INFINITY;
    for (guint i = 0; i < s->n; i++) {
        set_thing(layout, body, i, &s->things[i]);
        measure_single(s, i, before);
        for (int kind = 0; kind < SINGLE; kind++)
            if (s->things[i].single[kind].distance < s->least[kind].distance)
                s->least[kind] = s->things[i].single[kind];
    }
    measure_pairs(s, before);
    for (int kind = 0; kind < MOULD_COVERS; kind++)
        if (isinf(s->least[kind].distance))
            s->least[kind].distance = NAN;
    return s;
}

MouldGap
mould_space_least(const MouldSpace *space, MouldCoverKind kind)
{
    g_return_val_if_fail(space != NULL && kind < MOULD_COVERS, (MouldGap){.distance = NAN});
    return space->least[kind];
}

MouldGap
mould_space_of(const MouldSpace *s, MouldCoverKind kind, guint cavity, gboolean *exact)
{
    MouldGap best = {.distance = NAN};
    gboolean measured = TRUE;
    g_return_val_if_fail(s != NULL && cavity < s->n && kind < MOULD_COVERS, best);
    if (kind < SINGLE) {
        best = s->things[cavity].single[kind];
        if (isinf(best.distance))
            best.distance = NAN;
    }
    for (guint other = 0; kind == MOULD_COVER_BETWEEN && other < s->n; other++) {
        if (other == cavity)
            continue;
        const Pair *p = &s->pairs[pair_index(s, MIN(cavity, other), MAX(cavity, other))];
        if (best.distance <= p->gap.distance)
            continue;
        best = p->gap;
        measured = p->measured;
    }
    if (exact)
        *exact = measured;
    return best;
}

guint
mould_space_measured(const MouldSpace *space)
{
    g_return_val_if_fail(space != NULL, 0);
    return space->measured;
}
