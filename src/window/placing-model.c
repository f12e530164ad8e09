// SPDX-License-Identifier: GPL-3.0-or-later
// Commands on spots, and snapping.
#include "window/placing-model.h"

#include <math.h>

#include "mould/fixed.h"

#define SMALL 1e-9
#define COPY_GRID 6    // places tried to a side
#define COPY_ASIDE 0.2 // of its size, where nothing fits: both can then be taken hold of

static PlacementSpot *
spot_at(const GArray *spots, guint index)
{
    return &((PlacementSpot *)(gpointer)spots->data)[index];
}

GArray *
placing_spots(const MouldLayout *l, const char *text, const UnitSet *units)
{
    g_return_val_if_fail(l != NULL && units != NULL, NULL);
    g_autoptr(GArray) typed = text ? placement_read(text, units, NULL) : NULL;
    gboolean rest = text && placement_rest(text);
    if (typed && typed->len == l->n_cavities && l->by_hand && !rest)
        return g_steal_pointer(&typed);
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    for (guint i = 0; i < l->n_cavities; i++) {
        PlacementSpot spot = {l->cavities[i].x, l->cavities[i].y,
                              remainder(l->cavities[i].turn, 2 * G_PI), FALSE,
                              l->cavities[i].guest};
        const PlacementSpot *locked = typed && rest ? placement_locked_at(typed, spot.x, spot.y)
                                                    : NULL;
        if (locked)
            spot = *locked;
        g_array_append_val(spots, spot);
    }
    return spots;
}

void
placing_turn(PlacementSpot *spot, int way)
{
    double steps = spot->turn / PLACING_TURN;
    steps = way > 0 ? floor(steps + 1e-6) + 1 : ceil(steps - 1e-6) - 1;
    spot->turn = remainder(steps * PLACING_TURN, 2 * G_PI);
}

gboolean
placing_mirror(const MouldLayout *l, GArray *spots, guint index)
{
    if (index >= spots->len || index >= l->n_gates)
        return FALSE;
    PlacementSpot *s = spot_at(spots, index);
    s->x = 2 * l->gates[index].x1 - s->x;
    s->y = 2 * l->gates[index].y1 - s->y;
    s->turn = remainder(s->turn + G_PI, 2 * G_PI);
    return TRUE;
}

guint
placing_next(const GArray *spots, gboolean guest)
{
    guint hosts = spots->len;
    while (!guest && hosts > 0 && spot_at(spots, hosts - 1)->guest)
        hosts--;
    return hosts;
}

// What is left of the sand over what is asked for, at the worst place; far below for gates that do
// not reach.
static double
spare_sand(const MouldLayout *l)
{
    const MouldWish *wish = &l->fixed->wish;
    double spare = fmin(l->cover_wall - wish->asked_wall, l->cover_between - wish->asked_between);
    spare = fmin(spare, l->cover_sprue - wish->asked_runner);
    return fmin(spare, l->cover_runner - wish->asked_runner) - l->gates_missing;
}

static double
try_spot(const MouldLayout *l, const GArray *spots, const PlacementSpot *more, double sprue_x,
         double sprue_y)
{
    // Guests stand last.
    g_autofree PlacementSpot *all = g_new(PlacementSpot, spots->len + 1);
    guint n = 0, at = placing_next(spots, more->guest);
    for (guint i = 0; i <= spots->len; i++)
        all[i] = i == at ? *more : *spot_at(spots, n++);
    g_autoptr(MouldLayout) moved = mould_layout_moved(l, all, spots->len + 1, sprue_x, sprue_y);
    return moved ? spare_sand(moved) : -INFINITY;
}

// `best` put at (x, y) when more sand stays there.
static void
take_better(double *most, PlacementSpot *best, const MouldLayout *l, const GArray *spots, double x,
            double y, double sprue_x, double sprue_y)
{
    PlacementSpot spot = {x, y, best->turn, FALSE, best->guest};
    double spare = try_spot(l, spots, &spot, sprue_x, sprue_y);
    if (!(spare > *most + SMALL))
        return;
    *most = spare;
    *best = spot;
}

gboolean
placing_beside(const MouldLayout *l, const GArray *spots, guint index, double sprue_x,
               double sprue_y, PlacementSpot *beside)
{
    const PlacementSpot *s = spot_at(spots, index);
    PlacementSpot best = *s;
    best.locked = FALSE;
    *beside = best;
    g_return_val_if_fail(l->fixed != NULL, FALSE);
    const MouldWish *wish = &l->fixed->wish;
    double c = fabs(cos(s->turn)), q = fabs(sin(s->turn));
    double dx = c * wish->box_x + q * wish->box_y + wish->cover_between;
    double dy = q * wish->box_x + c * wish->box_y + wish->cover_between;
    const double steps[][2] = {{dx, 0}, {-dx, 0}, {0, -dy}, {0, dy}, {2 * dx, 0}, {-2 * dx, 0}};
    double most = -INFINITY;
    for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
        take_better(&most, &best, l, spots, s->x + steps[i][0], s->y + steps[i][1], sprue_x,
                    sprue_y);
    // Nothing beside it will do: anywhere.
    for (int i = 0; i < COPY_GRID * COPY_GRID && most < -SMALL; i++)
        take_better(&most, &best, l, spots,
                    ((i % COPY_GRID + 0.5) / COPY_GRID - 0.5) * (l->length - dx),
                    ((i / COPY_GRID + 0.5) / COPY_GRID - 0.5) * (l->width - dy), sprue_x, sprue_y);
    gboolean fits = most >= -SMALL;
    *beside = fits ? best
                   : (PlacementSpot){s->x + COPY_ASIDE * dx, s->y + COPY_ASIDE * dy, s->turn, FALSE,
                                     s->guest};
    return fits;
}

guint
placing_align(const MouldLayout *l, GArray *spots, guint index, gboolean column)
{
    if (index >= spots->len || !l->fixed)
        return 0;
    double half = fmin(l->fixed->wish.box_x, l->fixed->wish.box_y) / 2;
    const PlacementSpot *to = spot_at(spots, index);
    guint moved = 0;
    for (guint i = 0; i < spots->len; i++) {
        PlacementSpot *s = spot_at(spots, i);
        double *place = column ? &s->x : &s->y, line = column ? to->x : to->y;
        if (i == index || s->locked || fabs(*place - line) > half || *place == line)
            continue;
        *place = line;
        moved++;
    }
    return moved;
}

typedef struct {
    double at;       // of the candidate, along its axis
    SolidPoint from; // where its guide starts; NAN for the whole flask
} Candidate;

static void
take_nearer(Candidate *best, double wanted, double at, SolidPoint from)
{
    if (fabs(at - wanted) < fabs(best->at - wanted) - SMALL)
        *best = (Candidate){at, from};
}

// The nearest along x (axis 0) or y (axis 1).
static Candidate
find_nearest(const MouldLayout *l, const GArray *spots, guint index, int axis, double wanted)
{
    Candidate best = {0, {NAN, NAN}};
    for (guint i = 0; i < spots->len; i++) {
        if (i == index)
            continue;
        const PlacementSpot *s = spot_at(spots, i);
        SolidPoint middle = {s->x, s->y};
        double at = axis ? s->y : s->x;
        take_nearer(&best, wanted, at, middle);
        if (index < spots->len && i < l->n_gates)
            take_nearer(&best, wanted, 2 * (axis ? l->gates[i].y1 : l->gates[i].x1) - at, middle);
    }
    return best;
}

PlacingSnap
placing_snap(const MouldLayout *l, const GArray *spots, guint index, double x, double y,
             double reach)
{
    PlacingSnap snap = {.at = {x, y}};
    Candidate along = find_nearest(l, spots, index, 0, x);
    Candidate across = find_nearest(l, spots, index, 1, y);
    if (fabs(along.at - x) <= reach)
        snap.at.x = along.at;
    if (fabs(across.at - y) <= reach)
        snap.at.y = across.at;
    if (fabs(along.at - x) <= reach) {
        double far = isnan(along.from.y) ? -l->width / 2 : along.from.y;
        double near = isnan(along.from.y) ? l->width / 2 : snap.at.y;
        snap.guides[snap.n_guides++] = (PlacingGuide){{along.at, far}, {along.at, near}};
    }
    if (fabs(across.at - y) <= reach) {
        double far = isnan(across.from.x) ? -l->length / 2 : across.from.x;
        double near = isnan(across.from.x) ? l->length / 2 : snap.at.x;
        snap.guides[snap.n_guides++] = (PlacingGuide){{far, across.at}, {near, across.at}};
    }
    return snap;
}
