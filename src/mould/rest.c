// SPDX-License-Identifier: GPL-3.0-or-later
// Rows along a runner, filled from one end round what is locked.
//
// A side of the runner is seen from the runner: u along it, v away from it, so that the row at -v
// is the one at +v turned by half. What one casting takes from another is a stretch of u, exact for
// their outlines with risers and gates, when each is kept from ever passing the other.
#include "mould/rest.h"

#include <math.h>

#include "mould/build.h"
#include "mould/fixed-line.h"
#include "solid/outline.h"

#define ROUNDS 3      // the gating's size hardly changes after that
#define SPARE 1.02    // for what it still changes
#define SIMPLER 1e-4  // m, by which outlines lose detail; added to the sand
#define DISC_SIDES 24 // of a riser
#define WAYS (2 * MOULD_STANCES)
#define LINES 24

typedef struct {
    MouldStance stance;
    SolidOutline *plain, *whole; // front side at v = front; whole has the gate down to v = 0
    double front;                // m, of the casting from the runner's middle
    double attach;               // u of the gate
} Way;

typedef struct {
    double low, high;
} Stretch;

typedef struct {
    const MouldRestTask *task;
    const MouldWish *wish;
    const Progress *progress;
    Way ways[WAYS];        // those of the second half are those of the first turned by half
    int n_ways;            // of the first half
    double shift[WAYS][2]; // to the same way, and to the one turned by half
    double front;          // m, what ways were made for
    double half, past;     // m, of the runner; beyond the last gate
} Rest;

// A row on one side of a line.
typedef struct {
    int axis, side;
    double v;            // of the runner
    SolidOutline **near; // locked ones of this side with their gates, seen from the runner
    SolidOutline **far;  // those of the other
    guint n_near, n_far;
} Side;

typedef struct {
    int way;
    double u;
} Put;

void
mould_rest_free(MouldRest *rest)
{
    if (!rest)
        return;
    g_array_unref(rest->spots);
    g_free(rest);
}

static double
riser_gap(const MouldWish *wish)
{
    return wish->riser_diameter > 0 ? wish->riser_diameter + 0.5 * wish->neck : 0;
}

static double
wall_share(const MouldWish *wish)
{
    double high = fmax(wish->above, wish->riser_height);
    return wish->cover_wall / cos(wish->wall_draft) + high * tan(wish->wall_draft);
}

// The casting with its riser, moved by (u, v); with the gate's line down to the runner when asked.
static SolidOutline *
make_outline(const MouldFixed *fixed, const MouldStance *s, double u, double v, gboolean gate)
{
    const MouldWish *wish = &fixed->wish;
    g_autoptr(SolidOutline) turned = mould_stance_turned(fixed->shadow, s->turn);
    g_autoptr(SolidOutline) simple = solid_outline_simplified(turned, SIMPLER);
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint loop = 0; loop < simple->n_loops; loop++) {
        guint n = simple->starts[loop + 1] - simple->starts[loop];
        g_array_append_val(starts, points->len);
        g_array_append_vals(points, simple->points + simple->starts[loop], n);
    }
    double r = wish->riser_diameter / 2, round = r / cos(G_PI / DISC_SIDES);
    if (r > 0)
        g_array_append_val(starts, points->len);
    for (int i = 0; i < DISC_SIDES && r > 0; i++) {
        double way = 2 * G_PI * i / DISC_SIDES;
        SolidPoint p = {s->attach_u + round * cos(way),
                        -s->front - 0.5 * wish->neck - r + round * sin(way)};
        g_array_append_val(points, p);
    }
    if (gate) {
        SolidPoint ends[2] = {{s->attach_u, s->attach_v}, {s->attach_u, -v}};
        g_array_append_val(starts, points->len);
        g_array_append_vals(points, ends, 2);
    }
    for (guint i = 0; i < points->len; i++) {
        g_array_index(points, SolidPoint, i).x += u;
        g_array_index(points, SolidPoint, i).y += v;
    }
    return solid_outline_take(points, starts);
}

static void
clear_ways(Rest *r)
{
    for (int i = 0; i < WAYS; i++) {
        g_clear_pointer(&r->ways[i].plain, solid_outline_unref);
        g_clear_pointer(&r->ways[i].whole, solid_outline_unref);
    }
}

static double
sand_of(const Rest *r)
{
    return r->wish->cover_between + 2 * SIMPLER;
}

static void
make_ways(Rest *r, double front)
{
    const MouldFixed *fixed = r->task->fixed;
    clear_ways(r);
    r->front = front;
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < 2 * r->n_ways; i++) {
        double turn = mould_place_turn(r->wish, i % r->n_ways) + (i >= r->n_ways) * G_PI;
        Way *w = &r->ways[i];
        w->stance = mould_stance_reach(fixed->shadow, fixed->skin, turn);
        w->front = front;
        w->attach = w->stance.attach_u;
        w->plain = make_outline(fixed, &w->stance, 0, front + w->stance.front, FALSE);
        w->whole = make_outline(fixed, &w->stance, 0, front + w->stance.front, TRUE);
    }
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < 2 * r->n_ways; i++) {
        const Way *a = &r->ways[i], *b = &r->ways[(i + r->n_ways) % (2 * r->n_ways)];
        r->shift[i][0] = mould_stance_shift(a->whole, a->whole, sand_of(r));
        r->shift[i][1] = mould_stance_shift(a->whole, b->whole, sand_of(r));
    }
}

// Where u may be so that a way stands inside the walls; low > high when nowhere.
static Stretch
find_room(const Rest *r, const Side *s, const Way *w)
{
    const MouldWish *wish = r->wish;
    double share = wall_share(wish) + SIMPLER, radius = wish->length / 2 - share;
    double long_u = (s->axis ? wish->width : wish->length) / 2 - share;
    double long_v = (s->axis ? wish->length : wish->width) / 2 - share;
    const double ends[2] = {w->attach - r->past, w->attach + r->past};
    Stretch room = {-INFINITY, INFINITY};
    for (guint i = 0; i < w->plain->n_points + 2; i++) {
        gboolean of_runner = i >= w->plain->n_points;
        double u = of_runner ? ends[i - w->plain->n_points] : w->plain->points[i].x;
        double v = s->side * s->v + (of_runner ? 0 : w->plain->points[i].y), reach = long_u;
        if (wish->round)
            reach = fabs(v) <= radius ? sqrt(radius * radius - v * v) : -1;
        else if (fabs(v) > long_v)
            reach = -1;
        if (reach < 0)
            return (Stretch){1, 0};
        room.low = fmax(room.low, -reach - u);
        room.high = fmin(room.high, reach - u);
    }
    return room;
}

static void
ban(GArray *bans, const SolidOutline *it, const SolidOutline *mine, double sand)
{
    Stretch taken = {-mould_stance_shift(mine, it, sand), mould_stance_shift(it, mine, sand)};
    if (taken.low < taken.high)
        g_array_append_val(bans, taken);
}

// Stretches of u that locked ones take from a way.
static GArray *
list_bans(const Rest *r, const Side *s, const Way *w)
{
    GArray *bans = g_array_new(FALSE, FALSE, sizeof(Stretch));
    for (guint i = 0; i < s->n_near; i++)
        ban(bans, s->near[i], w->whole, sand_of(r));
    for (guint i = 0; i < s->n_far; i++)
        ban(bans, s->far[i], w->plain, sand_of(r));
    return bans;
}

// The least u from `from` on that no stretch takes.
static double
pass_bans(const GArray *bans, double from)
{
    gboolean moved = TRUE;
    while (moved) {
        moved = FALSE;
        for (guint i = 0; i < bans->len; i++) {
            const Stretch *b = &g_array_index(bans, Stretch, i);
            if (from > b->low + 1e-12 && from < b->high - 1e-12) {
                from = b->high;
                moved = TRUE;
            }
        }
    }
    return from;
}

// A side filled with `way`, every second turned by half when asked. An array of Put.
static GArray *
fill_side(const Rest *r, const Side *s, int way, gboolean alternate, guint most)
{
    GArray *puts = g_array_new(FALSE, FALSE, sizeof(Put));
    int ways[2] = {way, alternate ? (way + r->n_ways) % (2 * r->n_ways) : way};
    Stretch room[2];
    GArray *bans[2];
    for (int i = 0; i < 2; i++) {
        room[i] = find_room(r, s, &r->ways[ways[i]]);
        bans[i] = room[i].low <= room[i].high ? list_bans(r, s, &r->ways[ways[i]]) : NULL;
    }
    while (puts->len < most && bans[0] && bans[1]) {
        int k = puts->len % 2;
        double u = room[k].low;
        for (guint i = 0; i < puts->len; i++) {
            const Put *p = &g_array_index(puts, Put, i);
            u = fmax(u, p->u + r->shift[p->way][p->way != ways[k]]);
        }
        u = pass_bans(bans[k], u);
        if (u > room[k].high + 1e-12)
            break;
        Put put = {ways[k], u};
        g_array_append_val(puts, put);
    }
    // In the middle, where nothing is in the way.
    if (puts->len > 0 && s->n_near + s->n_far == 0) {
        const Put *last = &g_array_index(puts, Put, puts->len - 1);
        double slack = INFINITY;
        for (guint i = 0; i < puts->len; i++)
            slack = fmin(slack, room[i % 2].high - g_array_index(puts, Put, i).u);
        slack = last->u + slack > last->u ? slack / 2 : 0;
        for (guint i = 0; i < puts->len; i++)
            g_array_index(puts, Put, i).u += slack;
    }
    for (int i = 0; i < 2; i++)
        if (bans[i])
            g_array_unref(bans[i]);
    return puts;
}

static void
set_side(const Rest *r, int axis, double v, int side, Side *s)
{
    const MouldRestTask *t = r->task;
    *s = (Side){.axis = axis, .side = side, .v = v};
    s->near = g_new0(SolidOutline *, t->n_locked + 1);
    s->far = g_new0(SolidOutline *, t->n_locked + 1);
    for (guint i = 0; i < t->n_locked; i++) {
        const PlacementSpot *p = &t->locked[i];
        double u = side * (axis ? p->y : p->x), w = side * ((axis ? -p->x : p->y) - v);
        double turn = p->turn - axis * G_PI / 2 + (side < 0 ? G_PI : 0);
        gboolean here = w > 0;
        if (!here)
            turn += G_PI; // as it stands itself, then turned to this side
        MouldStance stance = mould_stance_reach(t->fixed->shadow, t->fixed->skin, turn);
        SolidOutline *o = make_outline(t->fixed, &stance, here ? u : -u, here ? w : -w, here);
        if (here) {
            s->near[s->n_near++] = o;
            continue;
        }
        s->far[s->n_far++] = mould_stance_turned(o, G_PI);
        solid_outline_unref(o);
    }
}

static void
clear_side(Side *s)
{
    for (guint i = 0; i < s->n_near; i++)
        solid_outline_unref(s->near[i]);
    for (guint i = 0; i < s->n_far; i++)
        solid_outline_unref(s->far[i]);
    g_free(s->near);
    g_free(s->far);
}

// The best filling of a side; of equals the first way, square ones before odd angles. NULL when
// stopped.
static GArray *
fill_best(const Rest *r, const Side *s, guint most)
{
    GArray **all = g_new0(GArray *, 2 * r->n_ways * 2);
    // Ways of a whole turn have those turned by half among them.
    int n = r->n_ways > 1 ? 2 * r->n_ways : 4;
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < n; i++)
        if (!progress_stopped(r->progress))
            all[i] = fill_side(r, s, i / 2, i % 2 && r->n_ways > 1, most);
    GArray *best = NULL;
    for (int how = 0; how < 2; how++)
        for (int i = how; i < n; i += 2)
            if (all[i] && (!best || all[i]->len > best->len))
                best = all[i];
    if (best)
        g_array_ref(best);
    for (int i = 0; i < n; i++)
        if (all[i])
            g_array_unref(all[i]);
    g_free(all);
    return best;
}

static void
add_spots(const Rest *r, const Side *s, const GArray *puts, GArray *spots)
{
    MouldWay frame = {.axis = s->axis};
    for (guint i = 0; puts && i < puts->len; i++) {
        const Put *p = &g_array_index(puts, Put, i);
        const Way *w = &r->ways[p->way];
        SolidPoint at = mould_place_point(&frame, s->side * p->u,
                                          s->v + s->side * (w->front + w->stance.front));
        double turn = w->stance.turn + s->axis * G_PI / 2 + (s->side < 0 ? G_PI : 0);
        PlacementSpot spot = {at.x, at.y, remainder(turn, 2 * G_PI), FALSE};
        g_array_append_val(spots, spot);
    }
}

// Both sides of a line filled; the spots, the locked ones first.
static GArray *
fill_line(const Rest *r, int axis, double v)
{
    const MouldRestTask *t = r->task;
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    guint most = t->most > 0 ? t->most : PLACEMENT_MOST;
    if (t->n_locked > 0)
        g_array_append_vals(spots, t->locked, t->n_locked);
    for (int side = 1; side >= -1 && spots->len < most; side -= 2) {
        Side s;
        set_side(r, axis, v, side, &s);
        guint left = most - spots->len;
        // Of few the half each, when that is to be had.
        if (side > 0 && t->most > 0 && t->n_locked == 0)
            left = (left + 1) / 2;
        g_autoptr(GArray) puts = fill_best(r, &s, left);
        add_spots(r, &s, puts, spots);
        clear_side(&s);
    }
    return spots;
}

static void
add_line(const Rest *r, double lines[LINES], int *n, int axis, double v)
{
    const MouldWish *wish = r->wish;
    double wide = wish->round ? wish->length : axis ? wish->length : wish->width;
    if (!(fabs(v) + r->half + wish->cover_wall <= wide / 2) || *n >= LINES)
        return;
    for (int i = 0; i < *n; i++)
        if (fabs(lines[i] - v) < 1e-6)
            return;
    lines[(*n)++] = v;
}

// Lines worth trying: through the sprue; in the middle; with one row against a wall; as far from a
// locked one as a row stands, and between two of them.
static int
list_lines(const Rest *r, int axis, double lines[LINES])
{
    const MouldRestTask *t = r->task;
    const MouldWish *wish = r->wish;
    int n = 0;
    double given = axis ? -t->sprue_x : t->sprue_y;
    if (!isnan(given)) {
        add_line(r, lines, &n, axis, given);
        return n;
    }
    add_line(r, lines, &n, axis, 0);
    double room = (axis || wish->round ? wish->length : wish->width) / 2 - wall_share(wish);
    for (int i = 0; i < MIN(2, r->n_ways); i++) {
        double row = r->front + r->ways[i].stance.front + r->ways[i].stance.back + SIMPLER;
        add_line(r, lines, &n, axis, room - row);
        add_line(r, lines, &n, axis, row - room);
        add_line(r, lines, &n, axis, (r->half - row) / 2);
        add_line(r, lines, &n, axis, (row - r->half) / 2);
    }
    for (guint i = 0; i < t->n_locked; i++) {
        double v = axis ? -t->locked[i].x : t->locked[i].y;
        for (int side = -1; side <= 1; side += 2) {
            double turn = t->locked[i].turn - axis * G_PI / 2 + (side < 0 ? G_PI : 0);
            MouldStance s = mould_stance_reach(t->fixed->shadow, t->fixed->skin, turn);
            add_line(r, lines, &n, axis, v - side * (r->front + s.front));
        }
        for (guint k = 0; k < i; k++)
            add_line(r, lines, &n, axis, (v + (axis ? -t->locked[k].x : t->locked[k].y)) / 2);
    }
    return n;
}

static void
size_runner(Rest *r, const MouldPour *pour)
{
    r->half = SPARE * fmax(pour->runner, fmax(pour->well, pour->sprue_top)) / 2;
    r->past = SPARE * (pour->gate_width / 2 + pour->runner);
}

typedef struct {
    MouldRest *rest;
    double cost;
} Best;

static void
find_sprue(const MouldRestTask *t, int axis, double v, double *x, double *y)
{
    *x = !isnan(t->sprue_x) ? t->sprue_x : axis ? -v : NAN;
    *y = !isnan(t->sprue_y) ? t->sprue_y : axis ? NAN : v;
}

static double
cost_of(const MouldLayout *l)
{
    double cost = 0;
    for (guint i = 0; i < l->n_gates; i++)
        cost += hypot(l->gates[i].x2 - l->gates[i].x1, l->gates[i].y2 - l->gates[i].y1);
    for (guint i = 0; i < l->n_runners; i++)
        cost += hypot(l->runners[i].x2 - l->runners[i].x1, l->runners[i].y2 - l->runners[i].y1);
    return cost;
}

// Gates that miss of the locked ones count for the line, those of others would be a mistake.
static void
take_better(const Rest *r, GArray *spots, int axis, double v, Best *best, MouldPour *pour)
{
    const MouldRestTask *t = r->task;
    double x, y;
    find_sprue(t, axis, v, &x, &y);
    g_autoptr(MouldLayout) l = mould_layout_new();
    l->length = r->wish->length;
    l->width = r->wish->width;
    mould_fixed_build(l, t->fixed, (PlacementSpot *)(gpointer)spots->data, spots->len, x, y, axis,
                      pour);
    double cost = cost_of(l);
    const MouldRest *b = best->rest;
    if (b && (l->gates_missing > b->missing ||
              (l->gates_missing == b->missing && spots->len < b->spots->len) ||
              (l->gates_missing == b->missing && spots->len == b->spots->len &&
               cost >= best->cost * (1 - 1e-9))))
        return;
    mould_rest_free(best->rest);
    best->rest = g_new0(MouldRest, 1);
    *best->rest = (MouldRest){g_array_ref(spots), axis, x, y, l->gates_missing};
    best->cost = cost;
}

MouldRest *
mould_rest_place(const MouldRestTask *t, const Progress *progress)
{
    g_return_val_if_fail(t != NULL && t->fixed != NULL && (t->locked || t->n_locked == 0), NULL);
    Rest *r = g_new0(Rest, 1);
    Best best = {NULL, INFINITY};
    r->task = t;
    r->wish = &t->fixed->wish;
    r->progress = progress;
    r->n_ways = r->wish->n_stances > 0 ? r->wish->n_stances : 1;
    guint guess = t->most > 0 ? t->most : t->n_locked + 2;
    MouldPour pour = mould_pour_sizes(r->wish, guess * r->wish->cavity_volume, (int)guess, 2,
                                      fmin(r->wish->box_x, r->wish->box_y));
    for (int round = 0; round < ROUNDS && !progress_stopped(progress); round++) {
        guint before = best.rest ? best.rest->spots->len : 0;
        g_clear_pointer(&best.rest, mould_rest_free);
        best.cost = INFINITY;
        size_runner(r, &pour);
        make_ways(r, r->half + r->wish->cover_between + riser_gap(r->wish));
        MouldPour next = pour;
        for (int axis = 0; axis < 2; axis++) {
            double lines[LINES];
            int n = t->axis < 0 || t->axis == axis ? list_lines(r, axis, lines) : 0;
            for (int i = 0; i < n && !progress_stopped(progress); i++) {
                g_autoptr(GArray) spots = fill_line(r, axis, lines[i]);
                const MouldRest *was = best.rest;
                MouldPour sizes;
                if (spots->len > t->n_locked)
                    take_better(r, spots, axis, lines[i], &best, &sizes);
                next = best.rest != was ? sizes : next;
            }
        }
        pour = next;
        if (best.rest && best.rest->spots->len == before)
            break;
    }
    clear_ways(r);
    g_free(r);
    if (progress_stopped(progress))
        g_clear_pointer(&best.rest, mould_rest_free);
    return best.rest;
}
